import { describe, expect, it } from 'vitest';
import type { PacingInput } from '../../src/pacing/cues/cue.ts';
import { becauseText } from '../../src/pacing/cues/words-because.ts';
import { BARE_GUIDANCE, createPacing, type Guidance, SHIPPED_PROFILE } from '../../src/pacing/index.ts';
import { inputsOf, pace } from '../support/pacing-inputs.ts';
import { steadySucks } from '../support/suck-trains.ts';

/** 6 mL/min without a pause to 300 s, a pause, on to 600 s; 30 mL by 300 s. */
const plan = {
  sucks: [...steadySucks(6, 0, 300), ...steadySucks(6, 306, 600)],
  endSec: 660,
};
/** The same with milk in the bottle, known from a time on. */
function* withMilk(inputs: Iterable<PacingInput>, wholeMl: number, weighedAtSec: number) {
  for (const input of inputs) {
    input.milkMl = input.atSec < weighedAtSec ? null : Math.max(0, wholeMl - input.intakeMl);
    yield input;
  }
}
const switches = (portionMl: number | null) =>
  pace(inputsOf(plan), portionMl).cues.filter((cue) => cue.kind === 'switch-side');

describe('the cue to change sides', () => {
  it('comes once, at the first suck pause after half of the portion', () => {
    // Half of 50 mL has gone at 250 s; the pause begins after the suck at 299 s.
    const cues = switches(50);
    expect(cues).toHaveLength(1);
    expect(cues[0]!.atSec).toBeCloseTo(301, 1);
    expect(becauseText(cues[0]!.because, 'en')).toBe(
      'First pause past the change-over: 1 fl oz (30 mL) taken, 2.0 s without a suck.',
    );
  });

  it('does not come in a pause before half', () => {
    // Half of 90 mL has gone at 456 s: the pause at 301 s is too early, the next one is the end.
    expect(switches(90)[0]!.atSec).toBeCloseTo(601, 0);
  });

  it('never comes without a portion', () => {
    expect(switches(null)).toEqual([]);
  });

  describe('without a portion, by what was weighed', () => {
    /** 50 mL in the bottle; not known before `weighedAtSec`. */
    const weighed = (
      guidance: Partial<Guidance>,
      { wholeMl = 50, weighedAtSec = 20 } = {},
      portionMl = null,
    ) =>
      pace(withMilk(inputsOf(plan), wholeMl, weighedAtSec), portionMl as number | null, {
        guidance: { ...BARE_GUIDANCE, ...guidance },
      }).cues.filter((cue) => cue.kind === 'switch-side');

    it('comes where it would with that portion, however late it was weighed', () => {
      for (const weighedAtSec of [0, 20, 200]) {
        const cues = weighed({ otherSideByWeight: true }, { weighedAtSec });
        expect(cues).toEqual(switches(50));
      }
    });

    it('goes by the first weighing: milk that is poured in later moves nothing', () => {
      const refilled = function* () {
        for (const input of withMilk(inputsOf(plan), 50, 0)) {
          if (input.atSec > 100) input.milkMl = (input.milkMl ?? 0) + 60;
          yield input;
        }
      };
      const guidance = { ...BARE_GUIDANCE, otherSideByWeight: true };
      const cues = pace(refilled(), null, { guidance }).cues.filter(({ kind }) => kind === 'switch-side');
      expect(cues).toEqual(switches(50));
    });

    it('a portion that was typed in goes before the weight; a feed that ran without it never had it', () => {
      const guidance = { ...BARE_GUIDANCE, otherSideByWeight: true };
      const cues = pace(withMilk(inputsOf(plan), 50, 0), 90, { guidance }).cues;
      expect(cues.filter(({ kind }) => kind === 'switch-side')).toEqual(switches(90));
      expect(weighed({})).toEqual([]);
    });

    it('an empty bottle has no half; the minutes still count', () => {
      expect(weighed({ otherSideByWeight: true }, { wholeMl: 0, weighedAtSec: 0 })).toEqual([]);
      const both = { otherSideByWeight: true, otherSideByTime: true };
      expect(weighed(both, { wholeMl: 200 })[0]!.because).toMatchObject({ rule: 'switch-side-by-time' });
      expect(weighed(both, { wholeMl: 50 })[0]!.because).toMatchObject({ rule: 'switch-side' });
    });
  });

  it('ends by the next latch once it was seen, and by itself after half a minute', () => {
    // The burp that is due in the same pause is shown first, and answered after 5 s.
    const away = [{ fromSec: 302, toSec: 330, tiltDeg: 30 }];
    const sucks = plan.sucks.filter((suck) => suck.atSec < 301 || suck.atSec > 331);
    const answered = pace(inputsOf({ sucks, endSec: 400, away }), 50).shown;
    const atSwitch = answered.findIndex((one) => one.kind === 'switch-side');
    expect(answered[atSwitch + 1]).toMatchObject({ kind: null });
    expect(answered[atSwitch + 1]!.fromSec).toBeCloseTo(330, 1);

    // The burp is shown for a minute; the next cue begins two minutes after it at the soonest, in a pause.
    const paused = plan.sucks.filter((suck) => suck.atSec < 430);
    const ignored = pace(inputsOf({ sucks: paused, endSec: 480 }), 50).shown;
    const since = ignored.find((one) => one.kind === 'switch-side')!.fromSec;
    expect(ignored.find((one) => one.fromSec > since)!.fromSec - since).toBeCloseTo(30, 0);
    const burp = ignored.findLast((one) => one.kind === 'burp' && one.fromSec < since)!.fromSec;
    expect(since - burp).toBeGreaterThanOrEqual(120 - 1e-6);
  });

  it.each([0, -5, Number.NaN, Number.POSITIVE_INFINITY])('refuses a portion of %f mL', (portionMl) => {
    expect(() => createPacing(SHIPPED_PROFILE, { portionMl })).toThrow(/portion/);
  });
});
