/**
 * By how much a bucket must stand over its depth before "too fast" is believed.
 *
 * While the flow is well known: a quarter of the standard deviation of the last 10 s, so that noise crosses nothing.
 * While it is not, and little is known of all that was taken either (a baby who has only begun: nobody knows yet what
 * a suck gives), that would make the cue late by ten seconds where milk comes fastest, since an estimate begins at
 * what is usual. Early by a few seconds costs less. So it then comes sooner, by what that standard deviation is above
 * a usual one: as likely early as late over babies whose sucks give from half to twice the usual. The first cue alone:
 * after it somebody minds the bottle, and more cues would only be more.
 */
import type { PacingInput } from '../cues/cue.ts';
import type { PaceParams } from '../profile/profile.ts';

/** @param isFirst no "too fast" has come yet in this feed @returns mL over the depth; below 0: as much under it */
export function marginMl(
  { doubtMl = 0, trail, quality }: PacingInput,
  depthMl: number,
  isFirst: boolean,
  params: PaceParams['tiltDown'],
): number {
  const waitMl = (quality === 'good' ? params.doubts : params.degradedDoubts) * doubtMl;
  if (!isFirst) return waitMl;
  const { unsureIntakeMl, unsureFlowMl, whollyUnsureFlowMl } = params;
  const unsureMl = Math.max(0, (trail?.sdMl ?? 0) - unsureIntakeMl);
  const ramp = Math.max(1e-9, whollyUnsureFlowMl - unsureFlowMl);
  const share = Math.min(1, Math.max(0, (doubtMl - unsureFlowMl) / ramp));
  return waitMl - Math.min(params.soonerAtMostShare * depthMl, unsureMl * share);
}
