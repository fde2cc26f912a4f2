/** A row of 0.2 s from four blocks: mean readings of the balance and the cells, and their derivatives. No allocation per block. */
import { gramsFromNewtons } from '../../base/units.ts';
import { type Arm, feltX, feltZ } from './balance.ts';
import type { BlockReading } from './reading.ts';

export const ROW_BLOCKS = 4;

export interface Row {
  blocks: number;
  balanced: number;
  weighed: number;
  /** Its length so far, seconds. */
  sec: number;
  /** True when only the milk acted on the bottle in all of its blocks. */
  free: boolean;
  /** The bottle was found free after a gap: this row is used as a weighing, whatever its result. */
  found: boolean;
  /** Greatest rate of turning, rad/s. */
  turnRadPerSec: number;
  /** Sums over the blocks used for the balance. */
  reading: number;
  expected: number;
  perGram: number;
  perLag: number;
  feltX: number;
  /** Sums over the blocks used for weighing: mass less the empty bottle and reading per gram of milk, across and along; force left over, g. */
  gramsX: number;
  gramsZ: number;
  milkX: number;
  milkZ: number;
  leftX: number;
  leftZ: number;
  /** Scatter of the balance from block to block within the row. */
  lastLeft: number;
  squares: number;
  differences: number;
}

export const createRow = (): Row => ({
  blocks: 0,
  balanced: 0,
  weighed: 0,
  sec: 0,
  free: true,
  found: false,
  turnRadPerSec: 0,
  reading: 0,
  expected: 0,
  perGram: 0,
  perLag: 0,
  feltX: 0,
  gramsX: 0,
  gramsZ: 0,
  milkX: 0,
  milkZ: 0,
  leftX: 0,
  leftZ: 0,
  lastLeft: Number.NaN,
  squares: 0,
  differences: 0,
});

export function clearRow(row: Row): void {
  row.blocks = 0;
  row.balanced = 0;
  row.weighed = 0;
  row.sec = 0;
  row.free = true;
  row.found = false;
  row.turnRadPerSec = 0;
  row.reading = 0;
  row.expected = 0;
  row.perGram = 0;
  row.perLag = 0;
  row.feltX = 0;
  row.gramsX = 0;
  row.gramsZ = 0;
  row.milkX = 0;
  row.milkZ = 0;
  row.leftX = 0;
  row.leftZ = 0;
  row.lastLeft = Number.NaN;
  row.squares = 0;
  row.differences = 0;
}

/** Adds a block's balance. @param lagShare share of the nominal lag */
export function addBalance(
  row: Row,
  balance: number,
  arm: Arm,
  milkGrams: number,
  { ax, tiltRad, feltTiltRad }: BlockReading,
  lagShare: number,
): void {
  // Lag of a surface with the nominal time constant behind the felt force.
  const lagRad = tiltRad - feltTiltRad;
  const expected = arm.arm * milkGrams;
  const perLag = milkGrams * arm.armPerRad * lagRad;
  row.balanced += 1;
  row.reading += balance;
  row.expected += expected;
  row.perGram += arm.armOfAdded;
  row.perLag += perLag;
  row.feltX += ax;
  const left = balance - expected - lagShare * perLag;
  if (!Number.isNaN(row.lastLeft)) {
    row.squares += (left - row.lastLeft) ** 2 / 2;
    row.differences += 1;
  }
  row.lastLeft = left;
}

/** Adds a block's weight across and along. */
export function addWeights(
  row: Row,
  reading: BlockReading,
  arm: Arm,
  emptyMassGrams: number,
  emptyCentreM: number,
  milkGrams: number,
): void {
  const gramsX = gramsFromNewtons(reading.fxN) - emptyMassGrams * feltX(reading, emptyCentreM);
  const gramsZ = gramsFromNewtons(reading.fzN) - emptyMassGrams * feltZ(reading, emptyCentreM);
  row.weighed += 1;
  row.gramsX += gramsX;
  row.gramsZ += gramsZ;
  row.milkX += arm.milkAx;
  row.milkZ += arm.milkAz;
  row.leftX += milkGrams * arm.milkAx - gramsX;
  row.leftZ += milkGrams * arm.milkAz - gramsZ;
}
