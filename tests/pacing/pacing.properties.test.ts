import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { PacingInput } from '../../src/pacing/cues/cue.ts';
import { createPacing, SHIPPED_PROFILE, stepPacing } from '../../src/pacing/index.ts';

/** A stretch of a feed, half a second to a minute long, in which things stay as they are. */
const stretch = fc.record({
  steps: fc.integer({ min: 10, max: 1200 }),
  flowMlPerMin: fc.oneof(fc.constant(0), fc.double({ min: -1, max: 60, noNaN: true })),
  teatInMouth: fc.boolean(),
  tiltDeg: fc.double({ min: 0, max: 180, noNaN: true }),
  sucksPerSec: fc.constantFrom(0, 0, 1, 2),
  quality: fc.constantFrom('good', 'good', 'degraded', 'none'),
  buttonDown: fc.boolean(),
});
type Stretch = typeof stretch extends fc.Arbitrary<infer S> ? S : never;

function* played(stretches: readonly Stretch[]): Generator<PacingInput> {
  let atSec = 0;
  let intakeMl = 0;
  let suckCount = 0;
  let lastSuckAtSec: number | null = null;
  for (const one of stretches) {
    for (let step = 1; step <= one.steps; step += 1) {
      atSec += 0.05;
      if (one.teatInMouth) intakeMl = Math.max(0, intakeMl + one.flowMlPerMin / 1200);
      if (one.sucksPerSec > 0 && step % (20 / one.sucksPerSec) === 0) {
        suckCount += 1;
        lastSuckAtSec = atSec;
      }
      const { teatInMouth, tiltDeg, quality, buttonDown } = one;
      yield {
        atSec,
        stepSec: 0.05,
        intakeMl,
        teatInMouth,
        tiltDeg,
        suckCount,
        lastSuckAtSec,
        quality,
        buttonDown,
      };
    }
  }
}

const feeds = fc.array(stretch, { minLength: 1, maxLength: 10 });
const few = { numRuns: 50 };

/** Cheaper than an expectation in each of the many steps. */
function must(holds: boolean, what: string, input: PacingInput): void {
  if (!holds) expect.unreachable(`${what}, at ${input.atSec} s`);
}

describe('pacing, whatever happens', () => {
  it('fires only what may fire, shows only what may be shown', () => {
    fc.assert(
      fc.property(feeds, (stretches) => {
        const state = createPacing(SHIPPED_PROFILE, { portionMl: 40 });
        let switches = 0;
        let lastTiltDownSec = Number.NEGATIVE_INFINITY;
        for (const input of played(stretches)) {
          const { cues, showing, aheadOfPace } = stepPacing(state, input);
          must(
            aheadOfPace !== null && aheadOfPace >= 0 && aheadOfPace <= 1,
            'ahead of pace from 0 to 1',
            input,
          );
          must(
            input.quality !== 'none' || (cues.length === 0 && showing === null),
            'nothing without an estimate',
            input,
          );
          must(input.teatInMouth || showing !== 'tilt-down', 'no tilt-down with the nipple out', input);
          for (const cue of cues) {
            must(cue.atSec === input.atSec, 'a cue has the time of its step', input);
            if (cue.kind === 'switch-side') switches += 1;
            if (cue.kind === 'offer-stop') must(input.teatInMouth, 'offered when it asks', input);
            if (cue.kind !== 'tilt-down') continue;
            must(input.teatInMouth, 'no tilt-down with the nipple out', input);
            must(cue.atSec - lastTiltDownSec >= 15 - 1e-9, 'tilt-downs 15 s apart', input);
            lastTiltDownSec = cue.atSec;
          }
          must(switches <= 1, 'one change of sides', input);
        }
      }),
      few,
    );
  });

  it('is never too fast while the intake does not rise: spill, refill, handling are no intake', () => {
    fc.assert(
      fc.property(feeds, (stretches) => {
        const state = createPacing(SHIPPED_PROFILE, { portionMl: null });
        for (const input of played(stretches.map((one) => ({ ...one, flowMlPerMin: 0 })))) {
          const { cues, aheadOfPace } = stepPacing(state, input);
          must(cues.length === 0 && aheadOfPace === 0, 'no cue, not ahead', input);
        }
      }),
      few,
    );
  });

  it('is never too fast at up to 8 mL/min', () => {
    fc.assert(
      fc.property(feeds, (stretches) => {
        const state = createPacing(SHIPPED_PROFILE, { portionMl: null });
        const slow = stretches.map((one) => ({ ...one, flowMlPerMin: Math.min(7.99, one.flowMlPerMin) }));
        for (const input of played(slow)) {
          const { cues } = stepPacing(state, input);
          must(!cues.some((cue) => cue.kind === 'tilt-down'), 'no tilt-down', input);
        }
      }),
      few,
    );
  });
});
