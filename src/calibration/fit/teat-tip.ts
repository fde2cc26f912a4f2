/** Place of the teat's tip, from pushes at it: the ratio of moment to force is the distance of the tip. */
import { PlainError } from '../../base/errors.ts';
import type { Hold } from '../walk/hold.ts';
import { LEVER_MM } from '../walk/sleeve-design.ts';
import { feltDirection } from './accelerometer.ts';
import type { BalanceFit } from './balance.ts';
import { loadsOfHold } from './bottle.ts';

export interface TeatTipFit {
  teatTipZMm: number;
  sdMm: number;
}

/** A weaker push is not used, g. */
const LEAST_PUSH_GRAMS = 40;
/** Half-width of the place where the finger presses on the tip, mm (own assumption, no source). */
const FINGER_MM = 1;

/**
 * Least-squares slope of moment over sideways force, each minus the part of what is in the sleeve.
 * @param pushes holds with a finger pressing sideways (x) at the tip
 * @param inSleeve content of the sleeve: mass g and centre mm
 * @throws PlainError teat-tip-push
 */
export function teatTipFromPushes(
  balance: BalanceFit,
  pushes: readonly Hold[],
  inSleeve: { massGrams: number; centreZMm: number },
): TeatTipFit {
  let squares = 0;
  let product = 0;
  for (const hold of pushes) {
    const [fx] = feltDirection(balance.accelerometer, hold.accelerometer);
    const [loadX, , moment] = loadsOfHold(balance, hold);
    const pushX = loadX - inSleeve.massGrams * fx;
    const pushMoment = moment - (inSleeve.massGrams * inSleeve.centreZMm * fx) / LEVER_MM;
    squares += pushX * pushX;
    product += pushX * pushMoment;
  }
  const strongest = Math.sqrt(squares / Math.max(1, pushes.length));
  if (!(strongest > LEAST_PUSH_GRAMS)) {
    throw new PlainError(
      'teat-tip-push',
      'The push at the tip of the nipple was too weak to tell where the tip is.',
      'Hold the sleeve level, press the tip up with one finger about as hard as a doorbell, and keep it so for 3 seconds; or type in the height of the tip.',
    );
  }
  const noiseGrams = 0.3;
  const sdMm = Math.hypot(FINGER_MM / Math.sqrt(3), (noiseGrams / Math.sqrt(squares)) * LEVER_MM * 1.7);
  return { teatTipZMm: (product / squares) * LEVER_MM, sdMm };
}
