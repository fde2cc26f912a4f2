/** Noise model; g, s, mm as in the names. */
export interface MilkNoise {
  milkStartSdGrams: number;
  perSuckGrams: number;
  /** The same for a bottle that is steep when the baby begins to drink. */
  perSuckSteepGrams: number;
  perSuckStartSdGrams: number;
  /** Random walk of the milk per suck, g per √suck, and scatter of single sucks as a share of it. */
  perSuckWalkGrams: number;
  perSuckScatter: number;
  perSuckFloorGrams: number;
  /** Spread of the sucks' deviation from their mean, as a share of it, and its correlation time. */
  deviationShare: number;
  deviationSec: number;
  /** Flow without a detected suck: spread in g/s and correlation time. */
  leakSdGramsPerSec: number;
  leakSec: number;
  /** Milk noise with the teat in and out, g per √s. */
  inMouthWalkGrams: number;
  outWalkGrams: number;
  /** Correlation time of the couple, and its spread with the teat out. Its spread with the teat in is identified. */
  coupleSec: number;
  coupleOutSdGrams: number;
  lineMm: number;
  lineSdMm: number;
  lineWalkMm: number;
  besideSdMm: number;
  besideWalkMm: number;
  biasSdGrams: number;
  biasWalkGrams: number;
  tiltBiasSdGrams: number;
  massBiasSdGrams: number;
  massBiasWalkGrams: number;
  lagShareSd: number;
}

/** What a suck gave in earlier feeds of the same baby and nipple, as the start of the next feed's estimate. */
export interface EarlierSucks {
  /** Milk of one suck from a level bottle, and its standard deviation. */
  levelGrams: number;
  sdGrams: number;
  /** How much of it is known from those feeds, 0 to 1; the rest is what is usual. */
  knownShare: number;
}

/** A noise model whose milk per suck starts from earlier feeds; a steep bottle gives more by the same factor as usual. */
export const startingFrom = (noise: MilkNoise, { levelGrams, sdGrams }: EarlierSucks): MilkNoise => ({
  ...noise,
  perSuckGrams: levelGrams,
  perSuckSteepGrams: (levelGrams * noise.perSuckSteepGrams) / noise.perSuckGrams,
  perSuckStartSdGrams: sdGrams,
});
