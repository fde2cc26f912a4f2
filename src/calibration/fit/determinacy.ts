/**
 * Whether a set of poses and masses can determine the load matrix, and if not, which pose is missing.
 *
 * Each cell's reading is linear in six quantities: its zero, the cup's pull along x and z, and the known masses' Fx, Fz and moment.
 * The table of these over all holds has six singular values: the smallest says how well the holds separate the six, its direction which ones are not separated.
 */

import { PlainError } from '../../base/errors.ts';
import { tripleOf } from '../../base/typed.ts';
import {
  LEVER_MM,
  MARKS,
  type MarkName,
  POSE_NAMES,
  POSES,
  type PoseName,
  WALK_MARKS,
} from '../walk/sleeve-design.ts';
import type { BalanceObservation } from './balance.ts';
import { dot, type Rows, singularParts } from './linear-algebra.ts';

/** Loads are scaled by this, g. */
const ONE_LOAD_GRAMS = 200;
/** With a larger condition number the matrix is refused: a full walk has about 5, the smallest usable set about 12. */
export const MAX_CONDITION = 40;

/** A hold that could be done next. */
export interface NeededPose {
  pose: PoseName;
  /** Null: without a mass. */
  mark: MarkName | null;
}

export interface Determinacy {
  /** Largest over smallest singular value of the table; infinite when undetermined. */
  conditionNumber: number;
  determined: boolean;
  /** What is not determined yet, in plain words; null when all is. */
  lacking: string | null;
  /** The hold that would help most; null when determined. */
  needed: NeededPose | null;
}

const COLUMN_WORDS = [
  'the zero of the cells',
  'the weight of the cup across the bottle',
  'the weight of the cup along the bottle',
  'a load across the bottle',
  'a load along the bottle',
  'the turning effect of a load',
] as const;

/** One row of the table. @param f felt direction, sleeve axes */
function tableRow(f: readonly number[], mark: MarkName | null, massGrams: number): number[] {
  const [fx, , fz] = tripleOf(f);
  if (!mark) return [1, fx, fz, 0, 0, 0];
  const size = massGrams / ONE_LOAD_GRAMS;
  const { xMm, zMm } = MARKS[mark];
  return [1, fx, fz, size * fx, size * fz, (size * (zMm * fx - xMm * fz)) / LEVER_MM];
}

/** @param observations with the poses as asked; deviations of a few degrees do not matter here */
export function determinacyOf(
  observations: readonly Pick<BalanceObservation, 'pose' | 'placed'>[],
  stackGrams = ONE_LOAD_GRAMS,
): Determinacy {
  const table = observations.map(({ pose, placed }) =>
    tableRow(POSES[pose].f, placed?.mark ?? null, placed?.massGrams ?? 0),
  );
  const { smallest, conditionNumber, direction } = strengthOf(table);
  if (conditionNumber <= MAX_CONDITION)
    return { conditionNumber, determined: true, lacking: null, needed: null };
  return {
    conditionNumber,
    determined: false,
    lacking: wordsOf(direction),
    needed: mostHelpful(table, direction, smallest, stackGrams),
  };
}

function strengthOf(table: Rows): { smallest: number; conditionNumber: number; direction: number[] } {
  const padded =
    table.length >= 6
      ? table
      : [...table, ...Array.from({ length: 6 - table.length }, () => [0, 0, 0, 0, 0, 0])];
  const { values, directions } = singularParts(padded);
  const smallest = values[5]!;
  // Below rounding error a singular value counts as zero.
  const conditionNumber = smallest > 1e-9 * values[0]! ? values[0]! / smallest : Number.POSITIVE_INFINITY;
  return { smallest, conditionNumber, direction: directions[5]! };
}

/** The one or two quantities that are separated worst. */
function wordsOf(direction: readonly number[]): string {
  const order = direction.map((part, i) => ({ size: Math.abs(part), words: COLUMN_WORDS[i]! }));
  order.sort((one, other) => other.size - one.size);
  const [first, second] = order as [(typeof order)[0], (typeof order)[0]];
  return second.size > 0.4 * first.size
    ? `${first.words} cannot be told from ${second.words}`
    : `${first.words} has not been measured`;
}

/** Of all poses with and without the mass: the one that improves the worst direction most; simple poses are preferred. */
function mostHelpful(
  table: Rows,
  direction: readonly number[],
  smallest: number,
  stackGrams: number,
): NeededPose {
  let best: NeededPose = { pose: 'upright', mark: null };
  let bestGain = -1;
  for (const mark of [null, ...WALK_MARKS]) {
    for (const pose of POSE_NAMES) {
      const row = tableRow(POSES[pose].f, mark, stackGrams);
      // While several singular values are 0, no single pose raises the smallest one; then the component along this direction decides.
      const gain = strengthOf([...table, row]).smallest - smallest + 1e-3 * dot(row, direction) ** 2;
      if (gain > bestGain + 1e-9) {
        bestGain = gain;
        best = { pose, mark };
      }
    }
  }
  return best;
}

/** "upright, nipple end up, with the mass at the base mark". */
export const neededWords = ({ pose, mark }: NeededPose): string =>
  `${POSES[pose].words}, ${mark ? `with the mass at ${MARKS[mark].words}` : 'without a mass'}`;

/** @throws PlainError balance-undetermined, with the remedy */
export function requireDetermined(determinacy: Determinacy): void {
  if (determinacy.determined) return;
  const size = Number.isFinite(determinacy.conditionNumber)
    ? `condition number ${determinacy.conditionNumber.toFixed(0)}, at most ${MAX_CONDITION}`
    : 'condition number infinite';
  throw new PlainError(
    'balance-undetermined',
    `These holds cannot determine the load matrix (${size}): ${determinacy.lacking}.`,
    `Still needed: ${neededWords(determinacy.needed!)}.`,
  );
}
