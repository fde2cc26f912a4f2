/** Measured nipples, invented. */

/** @returns what was measured with the bottle tilted by 30°: trials of a minute that gave these volumes */
export const nippleTrials = (volumesMl: readonly number[], change: object = {}) => ({
  ...{ version: 1, teat: 'Blue ring', liquid: 'water', suction: 'free', tiltDeg: 30, headMm: 50, atMs: 0 },
  trials: volumesMl.map((volumeMl) => ({ volumeMl, durationSec: 60 })),
  ...change,
});
