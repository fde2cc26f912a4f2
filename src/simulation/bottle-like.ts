/** Small differences between bottles of one kind. */

import { Random } from '../base/random.ts';
import type { BottleShape, ProfilePoint } from './bottle.ts';

/**
 * A bottle whose inner profile differs slightly from the drawn one: base and neck end shifted, wider or narrower throughout, and with
 * the error of a pencil at each point.
 */
export function bottleLike(
  drawn: BottleShape,
  seed: number,
  { endMm = 1.5, radiusShare = 0.01, pencilMm = 0.2 } = {},
): BottleShape {
  const random = new Random(seed, 'bottle');
  const base = random.between([-endMm, endMm]);
  const neck = random.between([-endMm, endMm]);
  const wider = 1 + random.between([-radiusShare, radiusShare]);
  const middle = (drawn.innerProfileMm.length - 1) / 2;
  return {
    ...drawn,
    innerProfileMm: drawn.innerProfileMm.map(
      ([z, r], i): ProfilePoint => [
        z + (i < middle ? base : neck),
        r * wider + random.between([-pencilMm, pencilMm]),
      ],
    ),
    emptyMassGrams: drawn.emptyMassGrams + random.between([-15, 15]),
    emptyCentreZMm: drawn.emptyCentreZMm + random.between([-4, 4]),
    teatTipZMm: drawn.teatTipZMm + random.between([-3, 3]),
  };
}
