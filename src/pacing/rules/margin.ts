/**
 * The margin over a bucket's depth at which "too fast" comes.
 *
 * Usually a quarter of the standard deviation of the intake of the last 10 s, so that noise does not cause a cue.
 *
 * Before the first cue the margin is reduced while both this deviation and that of the total intake are large: the baby
 * has only begun, and the milk per suck is not known yet. The estimate then starts from a usual value, so it is too low
 * for a fast nipple, and the cue would be 10 s late where milk comes fastest. A cue a few seconds early costs less.
 * Later cues keep the usual margin: otherwise a feed has more cues than needed.
 */
import type { PacingInput } from '../cues/cue.ts';
import type { PaceParams } from '../profile/profile.ts';

/** @param isFirst no "too fast" cue yet in this feed @returns mL; negative: the cue comes below the depth */
export function marginMl(
  { doubtMl = 0, recentIntake, quality }: PacingInput,
  depthMl: number,
  isFirst: boolean,
  params: PaceParams['tiltDown'],
): number {
  const waitMl = (quality === 'good' ? params.doubts : params.degradedDoubts) * doubtMl;
  if (!isFirst) return waitMl;
  const { unsureIntakeMl, unsureFlowMl, whollyUnsureFlowMl } = params;
  const unsureMl = Math.max(0, (recentIntake?.sdMl ?? 0) - unsureIntakeMl);
  const ramp = Math.max(1e-9, whollyUnsureFlowMl - unsureFlowMl);
  const share = Math.min(1, Math.max(0, (doubtMl - unsureFlowMl) / ramp));
  return waitMl - Math.min(params.soonerAtMostShare * depthMl, unsureMl * share);
}
