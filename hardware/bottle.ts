/** The bottle the sleeve is made for: change it here, then run `npm run hardware`. Lengths in mm. */
import { PlainError } from '../src/base/errors.ts';

/** A bottle as the sleeve needs it; the example of the sleeve contract, section 4, is about this size. */
export interface Bottle {
  readonly diameterMm: number;
  /** Base to the start of the shoulder: the straight part. */
  readonly bodyHeightMm: number;
  readonly neckRadiusMm: number;
  readonly neckZMm: number;
  readonly collarRadiusMm: number;
  readonly collarTopZMm: number;
  readonly teatTipZMm: number;
  /** Bottle with teat and collar, dry. */
  readonly emptyMassGrams: number;
  readonly emptyCentreZMm: number;
  /** Most milk the budgets reckon with, and where its centre lies in a level hold. */
  readonly fullMl: number;
  readonly milkCentreZMm: number;
}

export const BOTTLE: Bottle = {
  diameterMm: 61,
  bodyHeightMm: 107,
  neckRadiusMm: 21,
  neckZMm: 122,
  collarRadiusMm: 25,
  collarTopZMm: 138,
  teatTipZMm: 172,
  emptyMassGrams: 106,
  emptyCentreZMm: 91,
  fullMl: 240,
  milkCentreZMm: 66,
};

/**
 * A small bottle, as expressed milk is often kept and given in (sizes: common practice, no source; measure yours). It stands
 * raised in a small cup that goes in in place of the liner; the sleeve itself stays as it is.
 */
export const SMALL_BOTTLE: Bottle = {
  diameterMm: 52,
  bodyHeightMm: 62,
  neckRadiusMm: 17,
  neckZMm: 76,
  collarRadiusMm: 22,
  collarTopZMm: 92,
  teatTipZMm: 124,
  emptyMassGrams: 48,
  emptyCentreZMm: 62,
  fullMl: 120,
  milkCentreZMm: 34,
};

/** Bottles that the small cup can be made for: a thicker one needs the liner, a shorter one is held by too little of its side. */
export const SMALL_BOTTLE_RANGE = { diameterMm: [40, 56], leastBodyHeightMm: 50 } as const;

/** Bottles that this shape can be made for: thinner leaves no room behind it, shorter none for two cells in a row. */
export const BOTTLE_RANGE = { diameterMm: [58, 75], leastBodyHeightMm: 105 } as const;

/** @throws PlainError BOTTLE_SHAPE when the small cup cannot be made for this bottle */
export function checkSmallBottle({ diameterMm, bodyHeightMm, teatTipZMm }: Bottle): void {
  const [least, greatest] = SMALL_BOTTLE_RANGE.diameterMm;
  const remedy = `Change SMALL_BOTTLE in hardware/bottle.ts, or use the liner: it takes bottles of ${BOTTLE_RANGE.diameterMm.join(' to ')} mm.`;
  if (!(diameterMm >= least && diameterMm <= greatest))
    throw new PlainError(
      'BOTTLE_SHAPE',
      `The small bottle is ${diameterMm} mm wide; the small cup is for ${least} to ${greatest} mm.`,
      remedy,
    );
  if (!(bodyHeightMm >= SMALL_BOTTLE_RANGE.leastBodyHeightMm && teatTipZMm > bodyHeightMm))
    throw new PlainError(
      'BOTTLE_SHAPE',
      `The straight part of the small bottle is ${bodyHeightMm} mm high; the small cup needs ${SMALL_BOTTLE_RANGE.leastBodyHeightMm} mm, and the nipple above it.`,
      remedy,
    );
}

/** @throws PlainError BOTTLE_SHAPE when the sleeve's shape cannot be made for this bottle */
export function checkBottle({ diameterMm, bodyHeightMm, teatTipZMm }: Bottle): void {
  const [least, greatest] = BOTTLE_RANGE.diameterMm;
  const remedy =
    'Take another bottle, or change the places in hardware/design.ts and run the tests in tests/hardware.';
  if (!(diameterMm >= least && diameterMm <= greatest))
    throw new PlainError(
      'BOTTLE_SHAPE',
      `The bottle is ${diameterMm} mm wide; the sleeve is for ${least} to ${greatest} mm.`,
      remedy,
    );
  if (!(bodyHeightMm >= BOTTLE_RANGE.leastBodyHeightMm && teatTipZMm > bodyHeightMm))
    throw new PlainError(
      'BOTTLE_SHAPE',
      `The straight part of the bottle is ${bodyHeightMm} mm high; the sleeve needs ${BOTTLE_RANGE.leastBodyHeightMm} mm, and the nipple above it.`,
      remedy,
    );
}
