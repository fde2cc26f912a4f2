/** Why a cue came: one plain line with the numbers that fired it. `offer-stop` names no amount. */
import { volumeText } from '../units.ts';
import type { Fading } from './enough.ts';
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

export const becauseOfferStop = ({ windowSec, windowSucks, earlierSucksPerMin }: Fading): string =>
  `${Math.round(windowSucks)} sucks in the last ${timeText(windowSec)} of nipple offered; before, about ${Math.round(earlierSucksPerMin)} a minute.`;
