/** Asks for the height of the nipple's tip, or finds it by pushes at it. */
import { PlainError } from '../../base/errors.ts';
import { type TeatTipFit, teatTipFromPushes } from '../../calibration/fit/teat-tip.ts';
import { type Fits, fitsOf } from '../../calibration/walk/outcome.ts';
import type { GuidedWalk } from './guided-walk.ts';

/**
 * Height of the nipple's tip: typed in, or found by pushing at it.
 * @returns null if the person stopped
 */
export async function teatTipFor({
  walk,
  source,
  talk,
}: Omit<GuidedWalk, 'keep'>): Promise<TeatTipFit | number | null> {
  if (walk.teatTipZMm !== null) return walk.teatTipZMm;
  if (source.teatTipZMm !== null) return source.teatTipZMm;
  const { balance, bottle }: Fits = fitsOf(walk);
  for (;;) {
    const answer = await talk.ask(
      'Height of the nipple’s tip over the bottom of the bottle’s place, mm (or "push"): ',
    );
    if (answer === null || answer.trim() === 'q') return null;
    const typed = Number(answer);
    if (typed >= 60 && typed <= 300) return typed;
    if (answer.trim() !== 'push') {
      talk.say('Type a height of 60 to 300 mm, or "push".');
      continue;
    }
    const pushes = [];
    for (let i = 1; i <= 3; i++) {
      await talk.ask(
        `Push ${i} of 3: empty bottle, level, one finger pressing the tip upwards. Enter when it is steady: `,
      );
      pushes.push(await source.takePush(walk));
    }
    try {
      return teatTipFromPushes(balance, pushes, {
        massGrams: bottle.emptyMassGrams,
        centreZMm: bottle.emptyCentreZMm,
      });
    } catch (error) {
      if (!(error instanceof PlainError)) throw error;
      talk.say(error.text);
    }
  }
}
