/** The gyroscope's zero. At rest nothing turns (the earth by 0.004 °/s), so its reading in the holds of the walk is its bias. Pure. */
import { mapTriple } from '../../base/typed.ts';
import { MOST_GYROSCOPE_BIAS_DPS } from '../../sensing/loads/calibration.ts';
import type { Hold, Triple } from '../walk/hold.ts';

/** Counts of the gyroscope per °/s (sleeve contract, section 2, MOTION). */
const COUNTS_PER_DPS = 65.5;
/** Fewest holds with gyroscope data: a zero from one or two may come from a moving hand. */
const LEAST_HOLDS = 6;

/** `none`: the sleeve has no gyroscope. `implausible`: more than any good chip shows at rest, so it is not used. */
export type GyroscopeZero =
  | { readonly kind: 'none' }
  | { readonly kind: 'good' | 'implausible'; readonly biasDps: Triple };

/** @returns the median of the holds for each axis, which is robust against a hold in which the sleeve moved */
export function gyroscopeZero(holds: readonly Hold[]): GyroscopeZero {
  const means = holds.flatMap(({ gyroscope }) => (gyroscope ? [gyroscope] : []));
  if (means.length < LEAST_HOLDS) return { kind: 'none' };
  const biasDps = mapTriple([0, 1, 2], (axis) => median(means.map((mean) => mean[axis]!)) / COUNTS_PER_DPS);
  const good = biasDps.every((dps) => Math.abs(dps) <= MOST_GYROSCOPE_BIAS_DPS);
  return { kind: good ? 'good' : 'implausible', biasDps };
}

/** The form of the calibration file (sleeve contract, section 4); the scale is taken from the data sheet, within 3 % (from memory). */
export function gyroscopeEntry(zero: GyroscopeZero): { biasDps: Triple; scale: Triple } | null {
  return zero.kind === 'good'
    ? { biasDps: mapTriple(zero.biasDps, (dps) => Number(dps.toFixed(3))), scale: [1, 1, 1] }
    : null;
}

/** For the certificate and the end of the walk. */
export function gyroscopeWords(zero: GyroscopeZero): string {
  if (zero.kind === 'none') return 'none';
  const shown = zero.biasDps.map((dps) => dps.toFixed(2)).join(', ');
  return zero.kind === 'good'
    ? `zero at rest ${shown} °/s about x, y, z`
    : `shows ${shown} °/s at rest, more than ${MOST_GYROSCOPE_BIAS_DPS}: not used; check its wires, or change the chip and calibrate again`;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}
