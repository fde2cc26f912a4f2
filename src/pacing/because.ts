/** Why a cue came: one plain line with the numbers that fired it, in English; becauseIn() tells it in Spanish. `offer-stop` names no amount. */
import { volumeText } from '../units.ts';
import type { Fading } from './enough.ts';
import type { HardWork } from './little-coming.ts';
import type { Pace } from './tilt-down.ts';
import { BECAUSE, fill } from './words-because.ts';

/** "36 s", "2 min", "5 min 20 s". */
function timeText(sec: number): string {
  const whole = Math.round(sec);
  if (whole < 100) return `${whole} s`;
  const rest = whole % 60;
  return `${Math.floor(whole / 60)} min${rest === 0 ? '' : ` ${rest} s`}`;
}

const pauseText = (pauseSec: number): string =>
  Number.isFinite(pauseSec)
    ? fill(BECAUSE.withoutSuck.en, { seconds: pauseSec.toFixed(1) })
    : BECAUSE.noSuck.en;

/** @param pace the bucket that fired, at `atSec`; @param inDoubt the estimate was degraded */
export function becauseTiltDown(pace: Pace, atSec: number, inDoubt: boolean): string {
  const { aheadMl, sinceMl, sinceSec } = pace.bucket;
  const overSec = Math.max(1, atSec - sinceSec);
  return fill(inDoubt ? BECAUSE.tiltDownInDoubt.en : BECAUSE.tiltDown.en, {
    milk: volumeText(sinceMl),
    time: timeText(overSec),
    flow: Math.round((sinceMl / overSec) * 60),
    ahead: volumeText(aheadMl),
    rate: pace.params.rateMlPerMin,
  });
}

/** @param volumeMl since the last burp or burp cue; @param pauseSec time without a suck */
export const becauseBurp = (volumeMl: number, pauseSec: number, suckPauseSec: number): string =>
  fill(BECAUSE.burp.en, {
    milk: volumeText(volumeMl),
    pause: pauseSec < suckPauseSec ? BECAUSE.noPause.en : pauseText(pauseSec),
  });

/** @param takenMl intake so far; what it is a share of is not said */
export const becauseSwitchSide = (takenMl: number, pauseSec: number): string =>
  fill(BECAUSE.switchSide.en, { milk: volumeText(takenMl), pause: pauseText(pauseSec) });

/** No volume: the change goes by time. */
export const becauseSwitchSideByTime = (feedSec: number, pauseSec: number): string =>
  fill(BECAUSE.switchSideByTime.en, { time: timeText(feedSec), pause: pauseText(pauseSec) });

export const becauseHalfWayBurp = (pauseSec: number): string =>
  fill(BECAUSE.halfWayBurp.en, { pause: pauseText(pauseSec) });

export const becauseRefused = (refusals: number): string => fill(BECAUSE.refused.en, { count: refusals });

export const becauseEndBurp = (refusals: number): string =>
  fill(BECAUSE.endBurp.en, { refused: becauseRefused(refusals) });

export const becauseBreathPause = (sucks: number): string => fill(BECAUSE.breathPause.en, { sucks });

export const becauseLowerIsFine = (tiltDeg: number, coverTiltDeg: number): string =>
  fill(BECAUSE.lowerIsFine.en, { tilt: Math.round(tiltDeg), cover: Math.round(coverTiltDeg) });

export const becauseHoleDry = (headMm: number): string =>
  fill(BECAUSE.holeDry.en, { depth: Math.round(-headMm) });

export const becauseLittleComing = ({ activeSec, sucks, takenMl }: HardWork): string =>
  fill(BECAUSE.littleComing.en, {
    sucks: Math.round(sucks),
    time: timeText(activeSec),
    milk: Math.max(0, takenMl).toFixed(1),
  });

export const becauseLongFeed = (feedSec: number): string =>
  fill(BECAUSE.longFeed.en, { time: timeText(feedSec) });

export const becauseAsleepEarly = (fading: Fading, feedSec: number): string =>
  fill(BECAUSE.asleepEarly.en, { ...fadingSlots(fading), into: timeText(feedSec) });

export const becauseAfter = (outSec: number): string => fill(BECAUSE.after.en, { time: timeText(outSec) });

export const becauseOfferStop = (fading: Fading): string => fill(BECAUSE.faded.en, fadingSlots(fading));

const fadingSlots = ({ windowSec, windowSucks, earlierSucksPerMin }: Fading) => ({
  sucks: Math.round(windowSucks),
  time: timeText(windowSec),
  rate: Math.round(earlierSucksPerMin),
});
