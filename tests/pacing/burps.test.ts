import { describe, expect, it } from 'vitest';
import { becauseText } from '../../src/pacing/cues/words-because.ts';
import { createPacing, noteBurped, SHIPPED_PROFILE, stepPacing } from '../../src/pacing/index.ts';
import { paceParams } from '../../src/pacing/profile/profile.ts';
import { burpsTaken, createBurps, stepBurpTaken } from '../../src/pacing/rules/burps.ts';
import { type FeedPlan, inputList, inputsOf, pace } from '../support/pacing-inputs.ts';
import { type Suck, steadySucks } from '../support/suck-trains.ts';

/** Bursts of ten sucks, 1.3 mL, every 12 s. */
function bursts(toSec: number): Suck[] {
  const sucks: Suck[] = [];
  for (let fromSec = 0; fromSec < toSec; fromSec += 12)
    sucks.push(...steadySucks(7.8, fromSec, fromSec + 10));
  return sucks;
}

const burpTimes = (plan: FeedPlan): number[] =>
  pace(inputsOf(plan))
    .cues.filter((cue) => cue.kind === 'burp')
    .map((cue) => cue.atSec);

describe('a burp cue', () => {
  it('waits for the first suck pause after 15 mL, 2 s after the last suck', () => {
    // The 12th burst makes it 15.6 mL, with its last suck at 141 s.
    const { cues, shown } = pace(inputsOf({ sucks: bursts(150), endSec: 150 }));
    expect(cues).toHaveLength(1);
    expect(cues[0]!.atSec).toBeCloseTo(143, 1);
    expect(becauseText(cues[0]!.because, 'en')).toBe(
      '½ fl oz (16 mL) since the last burp or burp cue; 2.0 s without a suck.',
    );
    expect(shown[0]).toMatchObject({ kind: 'burp' });
  });

  it('comes at 30 mL without a pause, and says so', () => {
    const { cues } = pace(inputsOf({ sucks: steadySucks(7.5, 0, 260), endSec: 260 }));
    expect(cues.map((cue) => cue.kind)).toEqual(['burp']);
    expect(cues[0]!.atSec).toBeGreaterThan(239);
    expect(cues[0]!.atSec).toBeLessThan(241);
    expect(becauseText(cues[0]!.because, 'en')).toBe(
      '1 fl oz (30 mL) since the last burp or burp cue; no pause came.',
    );
  });

  it('counts from the last cue when none was taken', () => {
    const times = burpTimes({ sucks: bursts(430), endSec: 430 });
    expect(times).toHaveLength(2);
    expect(times[1]! - times[0]!).toBeCloseTo(144, 0);
  });

  it.each([
    ['5 s out with the bottle up', 6, 30, true],
    ['only 4 s out', 4, 30, false],
    ['out, but the bottle level', 20, 85, false],
  ])('%s', (_, outSec, tiltDeg, taken) => {
    // Out after the 8th burst (10 mL). Taken, the count starts anew: the cue comes eight bursts later than else.
    const sucks = bursts(95).concat(bursts(240).map((suck) => ({ ...suck, atSec: suck.atSec + 120 })));
    const away = [{ fromSec: 97, toSec: 97 + outSec, tiltDeg }];
    const [first] = burpTimes({ sucks, endSec: 340, away });
    if (taken) expect(first).toBeGreaterThan(120 + 140);
    else expect(first).toBeLessThan(120 + 60);
  });

  it('is answered by the burp: shown until the bottle has been up for 5 s', () => {
    const { shown } = pace(
      inputsOf({ sucks: bursts(144), endSec: 200, away: [{ fromSec: 146, toSec: 180, tiltDeg: 30 }] }),
    );
    expect(shown.map((one) => one.kind)).toEqual(['burp', null]);
    expect(shown[1]!.fromSec).toBeCloseTo(151, 0);
  });

  it('is shown for a minute if nobody answers', () => {
    const { shown } = pace(inputsOf({ sucks: bursts(144), endSec: 260 }));
    expect(shown[1]!.fromSec - shown[0]!.fromSec).toBeCloseTo(60, 0);
  });

  it('counts anew from a burp by the button or the page, and a cue that stands is answered', () => {
    const plan = { sucks: bursts(400), endSec: 280 };
    const pressed = inputList(plan).map((input) => ({
      ...input,
      buttonDown: input.atSec > 100 && input.atSec < 100.4,
    }));
    const byButton = pace(pressed).cues.filter((cue) => cue.kind === 'burp');
    expect(byButton[0]!.atSec).toBeGreaterThan(235);

    const state = createPacing(SHIPPED_PROFILE, { portionMl: null });
    const byPage: number[] = [];
    for (const input of inputsOf(plan)) {
      if (Math.abs(input.atSec - 145) < 0.01) noteBurped(state, input.atSec);
      const step = stepPacing(state, input);
      byPage.push(...step.cues.map((cue) => cue.atSec));
      if (input.atSec > 145.1 && input.atSec < 200) expect(step.showing).toBeNull();
    }
    expect(byPage[0]).toBeCloseTo(143, 1);
    expect(state.burps.takenAtSec).toBeCloseTo(145, 1);
  });

  it('counts from an intake that the weighing corrected meanwhile', () => {
    // A weighing during the burp finds 3 mL more: they belong to before the burp.
    const sucks = bursts(95).concat(bursts(240).map((suck) => ({ ...suck, atSec: suck.atSec + 140 })));
    const inputs = inputList({ sucks, endSec: 300, away: [{ fromSec: 98, toSec: 130, tiltDeg: 30 }] }).map(
      (input) => (input.atSec > 110 ? { ...input, intakeMl: input.intakeMl + 3 } : input),
    );
    const burp = pace(inputs).cues.find((cue) => cue.kind === 'burp')!;
    expect(burp.atSec).toBeCloseTo(140 + 143, 0);
  });
});

describe('burps taken, read off kept rows', () => {
  const { burp } = paceParams(SHIPPED_PROFILE);
  const rowsEach = (stepSec: number, tiltAt: (sec: number) => number) =>
    Array.from({ length: Math.floor(60 / stepSec) }, (_, i) => ({
      atSec: i * stepSec,
      tiltDeg: tiltAt(i * stepSec),
      teatInMouth: i * stepSec < 10 || i * stepSec >= 50,
    }));

  it('are those of the live rule', () => {
    const tiltAt = (sec: number) =>
      sec < 15 ? 90 : sec < 24 ? 20 : sec < 30 ? 80 : sec < 34 ? 10 : sec < 36 ? 61 : 30;
    const rows = rowsEach(0.05, tiltAt);
    const live = createBurps();
    const taken = rows.filter((row) => stepBurpTaken(live, row, 0.05, 0, burp)).map(({ atSec }) => atSec);
    const read = burpsTaken(rowsEach(0.5, tiltAt), burp);
    expect(read).toEqual([
      { fromSec: 15, toSec: 23.5 },
      { fromSec: 36, toSec: 49.5 },
    ]);
    expect(taken).toHaveLength(read.length);
    for (const [i, { fromSec }] of read.entries())
      expect(taken[i]).toBeCloseTo(fromSec + burp.takenOutSec, 0);
  });
});
