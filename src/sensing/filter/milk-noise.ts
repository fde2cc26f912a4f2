/** Noise model; g, s, mm as in the names. */
export interface MilkNoise {
  milkStartSdGrams: number;
  perSuckGrams: number;
  /** The same for a bottle held steeply when the baby begins. */
  perSuckSteepGrams: number;
  perSuckStartSdGrams: number;
  /** Random walk of the milk per suck, g per √suck, and scatter of single sucks as a share of it. */
  perSuckWalkGrams: number;
  perSuckScatter: number;
  perSuckFloorGrams: number;
  /** How far the sucks of a while differ from their mean, as a share of it, and how long a while is. */
  deviationShare: number;
  deviationSec: number;
  /** Flow without a seen suck: spread in g/s and how long it lasts. */
  leakSdGramsPerSec: number;
  leakSec: number;
  /** Milk noise with the teat in and out, g per √s. */
  inMouthWalkGrams: number;
  outWalkGrams: number;
  /** How long the couple lasts, and its spread with the teat out. Its spread with the teat in is identified. */
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
