/** Why a cue came: one plain line with the numbers that fired it. `offer-stop` names no amount. */
import { volumeText } from '../units.ts';
import type { Fading } from './enough.ts';
import type { HardWork } from './little-coming.ts';
import type { Pace } from './tilt-down.ts';

/** "36 s", "2 min", "5 min 20 s". */
function timeText(sec: number): string {
  const whole = Math.round(sec);
  if (whole < 100) return `${whole} s`;
  const rest = whole % 60;
  return `${Math.floor(whole / 60)} min${rest === 0 ? '' : ` ${rest} s`}`;
}

const pauseText = (pauseSec: number): string =>
  Number.isFinite(pauseSec) ? `${pauseSec.toFixed(1)} s without a suck` : 'no suck seen';

/** @param pace the bucket that fired, at `atSec` */
export function becauseTiltDown(pace: Pace, atSec: number): string {
  const { aheadMl, sinceMl, sinceSec } = pace.bucket;
  const overSec = Math.max(1, atSec - sinceSec);
  const flowMlPerMin = Math.round((sinceMl / overSec) * 60);
  return `${volumeText(sinceMl)} in ${timeText(overSec)}, about ${flowMlPerMin} mL/min: ${volumeText(aheadMl)} ahead of ${pace.params.rateMlPerMin} mL/min.`;
}

/** @param volumeMl since the last burp or burp cue; @param pauseSec time without a suck */
export function becauseBurp(volumeMl: number, pauseSec: number, suckPauseSec: number): string {
  const why = pauseSec < suckPauseSec ? 'no pause came' : pauseText(pauseSec);
  return `${volumeText(volumeMl)} since the last burp or burp cue; ${why}.`;
}

/** @param takenMl intake so far; what it is a share of is not said */
export const becauseSwitchSide = (takenMl: number, pauseSec: number): string =>
  `First pause past the change-over: ${volumeText(takenMl)} taken, ${pauseText(pauseSec)}.`;

/** No volume: the change goes by time. */
export const becauseSwitchSideByTime = (feedSec: number, pauseSec: number): string =>
  `First pause after ${timeText(feedSec)} on one side, ${pauseText(pauseSec)}.`;

export const becauseHalfWayBurp = (pauseSec: number): string =>
  `First pause past half-way, ${pauseText(pauseSec)}.`;

export const becauseRefused = (refusals: number): string =>
  `The nipple was offered ${refusals} times in a row and not taken.`;

export const becauseEndBurp = (refusals: number): string =>
  `The end of the feed: ${becauseRefused(refusals)}`;

export const becauseBreathPause = (sucks: number): string => `${sucks} sucks without a pause.`;

export const becauseLowerIsFine = (tiltDeg: number, coverTiltDeg: number): string =>
  `Held at ${Math.round(tiltDeg)}°; milk covers the hole from ${Math.round(coverTiltDeg)}° on.`;

export const becauseHoleDry = (headMm: number): string =>
  `The milk lies ${Math.round(-headMm)} mm under the hole while baby sucks.`;

export const becauseLittleComing = ({ activeSec, sucks, takenMl }: HardWork): string =>
  `${Math.round(sucks)} sucks in ${timeText(activeSec)} of active sucking brought ${Math.max(0, takenMl).toFixed(1)} mL.`;

export const becauseLongFeed = (feedSec: number): string => `${timeText(feedSec)} since the first suck.`;

export const becauseAsleepEarly = (fading: Fading, feedSec: number): string =>
  `${becauseOfferStop(fading).slice(0, -1)}, ${timeText(feedSec)} into the feed.`;

export const becauseAfter = (outSec: number): string =>
  `Nipple out for ${timeText(outSec)} after "look at baby".`;

export const becauseOfferStop = ({ windowSec, windowSucks, earlierSucksPerMin }: Fading): string =>
  `${Math.round(windowSucks)} sucks in the last ${timeText(windowSec)} of nipple offered; before, about ${Math.round(earlierSucksPerMin)} a minute.`;
