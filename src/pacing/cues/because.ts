/** Builds those reasons that need some computing. */
import type { Fading } from '../rules/enough.ts';
import type { Pace } from '../rules/tilt-down.ts';
import type { Reason } from './reason.ts';

/** The pause in a reason: null where no suck was ever seen, since JSON has no infinity. */
export const pauseOrNull = (pauseSec: number): number | null => (Number.isFinite(pauseSec) ? pauseSec : null);

/** @param pace the bucket that fired, at `atSec`; @param inDoubt true when the estimate was degraded */
export function becauseTiltDown(pace: Pace, atSec: number, inDoubt: boolean): Reason {
  const { aheadMl, sinceMl, sinceSec } = pace.bucket;
  const overSec = Math.max(1, atSec - sinceSec);
  return {
    rule: inDoubt ? 'tilt-down-in-doubt' : 'tilt-down',
    numbers: {
      sinceMl,
      overSec,
      flowMlPerMin: Math.round((sinceMl / overSec) * 60),
      aheadMl,
      rateMlPerMin: pace.params.rateMlPerMin,
    },
  };
}

/** @param volumeMl since the last burp or burp cue; @param pauseSec time without a suck */
export const becauseBurp = (volumeMl: number, pauseSec: number, suckPauseSec: number): Reason =>
  pauseSec < suckPauseSec
    ? { rule: 'burp-without-pause', numbers: { sinceMl: volumeMl } }
    : { rule: 'burp', numbers: { sinceMl: volumeMl, pauseSec: pauseOrNull(pauseSec) } };

export const becauseFaded = (fading: Fading): Reason => ({ rule: 'faded', numbers: fadingNumbers(fading) });

export const becauseAsleepEarly = (fading: Fading, feedSec: number): Reason => ({
  rule: 'asleep-early',
  numbers: { ...fadingNumbers(fading), feedSec },
});

const fadingNumbers = ({ windowSec, windowSucks, earlierSucksPerMin }: Fading) => ({
  sucks: Math.round(windowSucks),
  windowSec,
  sucksPerMin: Math.round(earlierSucksPerMin),
});
