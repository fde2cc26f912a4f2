import { describe, expect, it } from 'vitest';
import { noActiveCues, PATIENT_CUES, raise } from '../../src/pacing/active-cues.ts';
import type { Cue, PacingInput } from '../../src/pacing/cues/cue.ts';
import { becauseText } from '../../src/pacing/cues/words-because.ts';
import { createPacing, SHIPPED_PROFILE, stepPacing } from '../../src/pacing/index.ts';
import { createQuiet, stepQuiet } from '../../src/pacing/rules/quiet.ts';
import { seededDraws } from '../support/distributions.ts';
import { type FeedPlan, inputList, inputsOf, pace } from '../support/pacing-inputs.ts';
import { seededRandom } from '../support/random.ts';
import { SITUATION } from '../support/situation.ts';
import { habitSucks, steadySucks } from '../support/suck-trains.ts';

const PORTION_ML = 60;

/** A feed in which every kind of cue comes: pouring, settled, fading; one burp. */
const eventful: FeedPlan = {
  sucks: [
    ...steadySucks(30, 0, 60),
    ...habitSucks(70, 600, { sucks: [5, 8], pauseSec: [3, 6] }, seededDraws(5)),
  ].filter((suck) => suck.atSec < 199 || suck.atSec > 230),
  endSec: 900,
  away: [{ fromSec: 200, toSec: 230, tiltDeg: 30 }],
};

describe('pacing as a whole', () => {
  it('gives every kind of cue its time in one feed', () => {
    const { cues } = pace(inputsOf(eventful), PORTION_ML);
    expect(new Set(cues.map((cue) => cue.kind))).toEqual(
      new Set(['tilt-down', 'burp', 'switch-side', 'offer-stop']),
    );
    for (const cue of cues) expect(becauseText(cue.because, 'en')).toMatch(/\d/);
  });

  it('gives the same cues for any prefix as for the whole: no look-ahead', () => {
    const inputs = inputList(eventful);
    const whole = pace(inputs, PORTION_ML);
    const random = seededRandom(7);
    for (let cut = 0; cut < 20; cut += 1) {
      const part = inputs.slice(0, Math.floor(random() * inputs.length));
      const untilSec = part.at(-1)?.atSec ?? 0;
      const prefix = pace(part, PORTION_ML);
      expect(prefix.cues).toEqual(whole.cues.filter((cue) => cue.atSec <= untilSec));
      expect(prefix.shown).toEqual(whole.shown.filter((one) => one.fromSec <= untilSec));
    }
  });

  it('knows nothing of other feeds: two at once give what each gives alone', () => {
    const inputs = inputList(eventful);
    const alone = pace(inputs, PORTION_ML).cues;
    const one = createPacing(SHIPPED_PROFILE, { portionMl: PORTION_ML });
    const other = createPacing(SHIPPED_PROFILE, { portionMl: null });
    const cues: Cue[] = [];
    for (const input of inputs) {
      cues.push(...stepPacing(one, input).cues);
      stepPacing(other, { ...input, intakeMl: input.intakeMl * 3 });
    }
    expect(cues).toEqual(alone);
  });

  it('counts a feed from its own first step, whatever ran through before', () => {
    const shifted = inputList(eventful).map((input) => ({ ...input, intakeMl: input.intakeMl + 500 }));
    // Compared as text: after shifting, the last digits of the numbers differ.
    const told = ({ atSec, kind, because }: Cue) => [atSec, kind, becauseText(because, 'en')];
    expect(pace(shifted, PORTION_ML).cues.map(told)).toEqual(
      pace(inputsOf(eventful), PORTION_ML).cues.map(told),
    );
  });

  it('says how far ahead of pace: half-way at 18 s, at the mark from 36 s on', () => {
    const state = createPacing(SHIPPED_PROFILE, { portionMl: null });
    let half = 0;
    for (const input of inputsOf({ sucks: steadySucks(24, 0, 120), endSec: 120 })) {
      const { aheadOfPace } = stepPacing(state, input);
      if (Math.abs(input.atSec - 18) < 0.01) half = aheadOfPace ?? -1;
    }
    expect(half).toBeGreaterThan(0.45);
    expect(half).toBeLessThan(0.58);
    expect(state.out.aheadOfPace).toBe(1);
  });

  it('makes nothing while nothing happens: the same step, the same empty list', () => {
    const state = createPacing(SHIPPED_PROFILE, { portionMl: null });
    const input: PacingInput = { ...inputList({ sucks: [], endSec: 0.05 })[0]! };
    const first = stepPacing(state, input);
    const { cues } = first;
    input.atSec = 0.1;
    expect(stepPacing(state, input)).toBe(first);
    expect(first.cues).toBe(cues);
  });
});

describe('which cue is shown', () => {
  it('"had enough?" first, then burp, then change arms, then hints; too fast before all', () => {
    const active = noActiveCues();
    const quiet = createQuiet('usual', { gapSec: 120, atMost: 8, ownBurpRoomMl: 5 });
    const now = {
      atSec: 0,
      teatInMouth: true,
      pauseSec: 3,
      suckPauseSec: 2,
      tooFast: null,
      burpHeld: false,
      bottleEmpty: false,
      holds: () => true,
    };
    const first = () => stepQuiet({ ...quiet }, active, now);
    expect(first()).toBeNull();
    for (const kind of [...PATIENT_CUES].reverse()) {
      raise(active, kind, SITUATION);
      expect(first()).toBe(kind);
    }
    expect(stepQuiet({ ...quiet }, active, { ...now, tooFast: 'tilt-down' })).toBe('tilt-down');
  });

  it('a burp and a change of arms due in one pause are both shown, two minutes apart', () => {
    const plan = { sucks: steadySucks(7.5, 0, 130), endSec: 300 };
    const { cues, shown } = pace(inputsOf(plan), 30);
    expect(cues.map((cue) => cue.kind)).toEqual(['burp', 'switch-side']);
    expect(cues[0]!.atSec).toBe(cues[1]!.atSec);
    expect(shown.map((one) => one.kind)).toEqual(['burp', null, 'switch-side', null]);
    expect(shown[2]!.fromSec - shown[0]!.fromSec).toBeCloseTo(120, 0);
  });

  it('does not ask to change arms while it asks whether baby has had enough', () => {
    const { cues, shown } = pace(inputsOf(eventful), PORTION_ML);
    const stop = cues.find((cue) => cue.kind === 'offer-stop')!;
    const after = shown.filter((one) => one.fromSec >= stop.atSec).map((one) => one.kind);
    expect(after[0]).toBe('offer-stop');
    expect(after).not.toContain('switch-side');
  });
});

describe('while there is no estimate', () => {
  const distrust = (fromSec: number, toSec: number, plan: FeedPlan): PacingInput[] =>
    inputList(plan).map((input) =>
      input.atSec < fromSec || input.atSec >= toSec ? input : { ...input, quality: 'none' },
    );

  it('no cue is recorded or shown', () => {
    const { cues, shown } = pace(distrust(0, 1e9, eventful), PORTION_ML);
    expect(cues).toEqual([]);
    expect(shown).toEqual([]);
  });

  it('the buckets only drain: milk that came meanwhile does not count as fast', () => {
    const plan = { sucks: steadySucks(24, 0, 90), endSec: 90 };
    const { cues } = pace(distrust(20, 50, plan));
    const tiltDowns = cues.filter((cue) => cue.kind === 'tilt-down');
    // 3.3 mL ahead at 20 s are drained in 14 s; from 50 s on it takes 36 s again.
    expect(tiltDowns[0]!.atSec).toBeGreaterThan(84);
    expect(tiltDowns[0]!.atSec).toBeLessThan(88);
  });

  it('a leap of the intake in it does not fill a bucket afterwards', () => {
    const inputs = inputList({ sucks: [], endSec: 20 }).map(
      (input): PacingInput => ({
        ...input,
        intakeMl: input.atSec > 5 ? 25 : 0,
        quality: input.atSec < 5 || input.atSec > 10 ? 'good' : 'none',
      }),
    );
    expect(pace(inputs).cues.filter((cue) => cue.kind === 'tilt-down')).toEqual([]);
  });

  it('a cue that stood is hidden, and shown again if nothing has changed', () => {
    const plan = { sucks: steadySucks(24, 0, 60), endSec: 60 };
    const { shown } = pace(distrust(40, 45, plan));
    expect(shown.map((one) => one.kind).slice(0, 3)).toEqual(['tilt-down', null, 'tilt-down']);
    expect(shown[2]!.fromSec).toBeCloseTo(45, 1);
  });

  it('the button still works', () => {
    const state = createPacing(SHIPPED_PROFILE, { portionMl: null });
    let ends = 0;
    let burps = 0;
    for (const input of inputsOf({ sucks: [], endSec: 6 })) {
      const step = stepPacing(state, {
        ...input,
        quality: 'none',
        buttonDown: input.atSec > 1 && input.atSec < 5,
      });
      if (step.endRequested) ends += 1;
      if (step.burpTaken) burps += 1;
    }
    expect([burps, ends]).toEqual([1, 1]);
  });

  it('NaN counts as no estimate, and does no lasting harm', () => {
    const plan = { sucks: steadySucks(24, 0, 90), endSec: 90 };
    const spoiled = inputList(plan).flatMap((input, index) =>
      index % 100 === 50
        ? [
            { ...input, intakeMl: Number.NaN },
            { ...input, atSec: Number.NaN },
            { ...input, stepSec: Number.NaN },
            { ...input, stepSec: 0 },
            { ...input, tiltDeg: Number.NaN, suckCount: 0 },
          ]
        : [input],
    );
    const clean = pace(inputsOf(plan)).cues.filter((cue) => cue.kind === 'tilt-down');
    const cues = pace(spoiled).cues.filter((cue) => cue.kind === 'tilt-down');
    expect(cues).toHaveLength(clean.length);
    expect(Math.abs(cues[0]!.atSec - clean[0]!.atSec)).toBeLessThan(2);
    for (const cue of cues) expect(becauseText(cue.because, 'en')).not.toMatch(/NaN|Infinity/);
  });
});
