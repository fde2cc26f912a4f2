/** A hold: the sleeve at rest in one pose for a few seconds, reduced to means and their scatter. */
import { mapTriple } from '../../base/typed.ts';
import { FLAG, type SensorSample } from '../../sensing/loads/loads.ts';

export type Triple = [number, number, number];

/** A sample with its motion, where the sleeve has a gyroscope. */
export type HoldSample = SensorSample & {
  /** Angular velocity about x, y, z, 1/65.5 °/s. */
  readonly gyroscope?: readonly [number, number, number] | null;
};

/** Plain data, so that a walk can be stored as JSON. */
export interface Hold {
  /** Middle of the hold, s of device time. */
  atSec: number;
  samples: number;
  /** Means of axial, front, rear, counts, and the standard deviation of single readings. */
  cells: Triple;
  cellSd: Triple;
  /** Means of the accelerometer's x, y, z, 1/8192 g, and the standard deviation of single readings. */
  accelerometer: Triple;
  accelerometerSd: Triple;
  /** Means of the gyroscope about x, y, z, 1/65.5 °/s; absent without a gyroscope, and in old walks. */
  gyroscope?: Triple;
  /** Standard deviation of each mean, from the scatter of batches, since neighboring readings are not independent (type A). */
  cellMeanSd: Triple;
  /** Difference of the means of the second half and of the first half. */
  cellDrift: Triple;
  accelerometerDrift: Triple;
  /** Number of flagged samples: axial, front, rear, accelerometer. */
  flagged: [number, number, number, number];
}

const AXES = [0, 1, 2] as const;

/**
 * Flagged fields are left out of their own mean; a field flagged throughout has the mean NaN and is reported by the walk.
 * @param samples of one hold, in order; at least 2
 */
export function holdFromSamples(samples: readonly HoldSample[]): Hold {
  const bits = [FLAG.axial, FLAG.front, FLAG.rear, FLAG.accelerometer];
  const cellStats = mapTriple(AXES, (i) =>
    statistics(samples.filter(({ flags }) => (flags & bits[i]!) === 0).map(({ cells }) => cells[i]!)),
  );
  const good = samples.filter(({ flags }) => (flags & FLAG.accelerometer) === 0);
  const turns = good.flatMap(({ gyroscope }) => (gyroscope ? [gyroscope] : []));
  const accelerometerStats = mapTriple(AXES, (i) =>
    statistics(good.map((sample) => sample.accelerometer[i]!)),
  );
  return {
    atSec: samples.length > 0 ? (samples[0]!.atSec + samples.at(-1)!.atSec) / 2 : 0,
    samples: samples.length,
    cells: mapTriple(cellStats, ({ mean }) => mean),
    cellSd: mapTriple(cellStats, ({ sd }) => sd),
    accelerometer: mapTriple(accelerometerStats, ({ mean }) => mean),
    accelerometerSd: mapTriple(accelerometerStats, ({ sd }) => sd),
    ...(turns.length > 0 &&
      turns.length >= samples.length / 2 && {
        gyroscope: mapTriple(AXES, (i) => meanOf(turns.map((turn) => turn[i]!))),
      }),
    cellMeanSd: mapTriple(cellStats, ({ meanSd }) => meanSd),
    cellDrift: mapTriple(cellStats, ({ drift }) => drift),
    accelerometerDrift: mapTriple(accelerometerStats, ({ drift }) => drift),
    flagged: bits.map((bit) => samples.filter(({ flags }) => (flags & bit) !== 0).length) as Hold['flagged'],
  };
}

const BATCHES = 6;

function statistics(values: readonly number[]): { mean: number; sd: number; meanSd: number; drift: number } {
  const half = Math.floor(values.length / 2);
  const long = Math.floor(values.length / BATCHES);
  const batches = Array.from({ length: BATCHES }, (_, i) => meanOf(values.slice(i * long, (i + 1) * long)));
  return {
    mean: meanOf(values),
    sd: sdOf(values),
    meanSd: long > 0 ? sdOf(batches) / Math.sqrt(BATCHES) : Number.NaN,
    drift: meanOf(values.slice(half)) - meanOf(values.slice(0, half)),
  };
}

function sdOf(values: readonly number[]): number {
  const mean = meanOf(values);
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  return values.length > 1 ? Math.sqrt(squares / (values.length - 1)) : 0;
}

const meanOf = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;
