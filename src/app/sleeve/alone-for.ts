/** Whether a sleeve may guide a baby alone, and at which pace; decided as for a feed with a host. Pure. */
import { PlainError } from '../../base/errors.ts';
import type { Baby, PastFeed } from '../../feed/record/baby.ts';
import { guidedBaby } from '../../feed/recording/guided.ts';
import type { AloneProfile } from './alone-block.ts';

/**
 * @param past this baby's feeds, newest first
 * @throws PlainError alone-not-paced when "slower" cues are not allowed for this baby, or the family turned them off
 */
export function aloneProfileFor(
  baby: Baby,
  past: readonly PastFeed[],
  soundOn: boolean,
  nowMs: number,
): AloneProfile {
  const { profile, guidance } = guidedBaby(baby, past, null, nowMs).ran;
  if (guidance.cuesOff.includes('tilt-down'))
    throw new PlainError(
      'alone-not-paced',
      `"Slower" cues are off for ${baby.name}, so a sleeve must not give them alone either.`,
      'Look at the answers about this baby under "Before a feed"; with a clinician’s plan they can come on.',
    );
  const { lasting, pouring } = profile.buckets;
  return {
    lasting: { rateMlPerMin: lasting.rateMlPerMin.value, depthMl: lasting.depthMl.value },
    pouring: { rateMlPerMin: pouring.rateMlPerMin.value, depthMl: pouring.depthMl.value },
    burpMl: profile.burp.dueMl.value,
    burpMostMl: profile.burp.atMostMl.value,
    mayPace: true,
    mayBurp: !guidance.cuesOff.includes('burp'),
    maySound: soundOn,
  };
}
