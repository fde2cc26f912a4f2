import { describe, expect, it } from 'vitest';
import { becauseText } from '../../src/pacing/cues/words-because.ts';
import {
  type ClinicianPlan,
  createPacing,
  cuePermission,
  FAMILY_GUIDANCE,
  isScreeningOpen,
  LANGUAGES,
  SCREENING,
  type ScreeningAnswers,
  SHIPPED_PROFILE,
  screened,
  stepPacing,
} from '../../src/pacing/index.ts';
import { HELD_BACK } from '../../src/pacing/screening.ts';
import { seededDraws } from '../support/distributions.ts';
import { inputsOf, pace } from '../support/pacing-inputs.ts';
import { habitSucks, steadySucks } from '../support/suck-trains.ts';

const screenedBy = (answers: ScreeningAnswers, plan: ClinicianPlan | null) =>
  screened(base, { agesDays: [], answers, plan });
const base = { profile: SHIPPED_PROFILE, guidance: FAMILY_GUIDANCE };
const allNo: ScreeningAnswers = Object.fromEntries(SCREENING.map(({ id }) => [id, false]));
const PLAN: ClinicianPlan = {
  from: 'feeding clinic',
  lasting: { rateMlPerMin: 4, depthMl: 8 },
  pouring: { rateMlPerMin: 7, depthMl: 3 },
  rhythm: { sucks: 5, pauseSec: 4 },
  enough: false,
};

/** Pours for a minute, then settles, then fades. */
const plan = {
  sucks: [
    ...steadySucks(30, 0, 60),
    ...habitSucks(70, 700, { sucks: [5, 8], pauseSec: [3, 6] }, seededDraws(5)),
  ],
  endSec: 1000,
};
const kinds = (with_: ReturnType<typeof screened>) => {
  const { cues, shown } = pace(inputsOf(plan), 60, with_);
  return { cues: new Set(cues.map((cue) => cue.kind)), shown: new Set(shown.map((one) => one.kind)) };
};

describe('whom the sleeve may pace', () => {
  it('asks of each: born early, under six weeks or slow to gain, jaundice, tongue-tie, cleft, heart or lung, thickened', () => {
    const asked = SCREENING.map(({ ask }) => ask.en).join(' ');
    for (const what of [
      /before 37 weeks/,
      /six weeks.*gain/,
      /jaundice/i,
      /tongue-tie/i,
      /cleft/i,
      /heart or lung/,
      /thickened/,
    ]) {
      expect(asked).toMatch(what);
    }
    for (const { ask } of SCREENING) for (const language of LANGUAGES) expect(ask[language]).toMatch(/\?$/);
    expect(isScreeningOpen({})).toBe(true);
    expect(isScreeningOpen(allNo)).toBe(false);
  });

  it('where "slower" is off, nothing is said about being ahead of a pace that nobody has set', () => {
    const ahead = ({ profile, guidance }: ReturnType<typeof screened>): (number | null)[] => {
      const state = createPacing(profile, { portionMl: null, guidance });
      return Array.from(inputsOf(plan), (input) => stepPacing(state, input).aheadOfPace);
    };
    expect(new Set(ahead(screenedBy({ ...allNo, cleft: true }, null)))).toEqual(new Set([null]));
    expect(ahead(screenedBy({ ...allNo, cleft: true }, PLAN))).toContain(1);
  });

  it('with no to all, nothing changes', () => {
    expect(screenedBy(allNo, null)).toEqual({ ...base, say: null });
    expect([...kinds(screenedBy(allNo, null)).cues]).toEqual(
      expect.arrayContaining(['tilt-down', 'offer-stop']),
    );
  });

  it.each(SCREENING.map(({ id }) => id))('%s: no "slower", no "enough"; burps go on', (id) => {
    const result = screenedBy({ ...allNo, [id]: true }, null);
    expect(result.say).toBe('cuesOff');
    const { cues, shown } = kinds(result);
    for (const kind of ['tilt-down', 'breath-pause', 'offer-stop', 'lower-is-fine'] as const) {
      expect(cues).not.toContain(kind);
      expect(shown).not.toContain(kind);
    }
    expect(shown).not.toContain('keep-low');
    expect(cues).toContain('burp');
  });

  it('under six weeks, or with a question unanswered: no "slower", no "enough", and nothing that speeds milk up', () => {
    const who = { agesDays: [null, 200, 14], answers: allNo, plan: null };
    expect(screened(base, who)).toMatchObject({ say: 'cuesOff', guidance: { cuesOff: HELD_BACK } });
    expect(HELD_BACK).toContain('hole-dry');
    for (const { id } of SCREENING) {
      const { [id]: _unasked, ...answers } = allNo;
      expect(screenedBy(answers, null)).toMatchObject({
        say: 'notScreened',
        guidance: { cuesOff: HELD_BACK },
      });
      expect(screenedBy(answers, PLAN).say).toBe('notScreened');
    }
  });

  it.each([
    [42, 'yes'],
    [41, 'no'],
    [Number.NaN, 'no'],
  ])('six weeks are 42 days: %f days old, %s', (ageDays, permission) => {
    const who = { agesDays: [ageDays], answers: allNo, plan: null };
    expect(cuePermission(who)).toBe(permission);
    expect(cuePermission({ ...who, answers: {} })).toBe(permission === 'yes' ? 'unknown' : 'no');
    expect(cuePermission({ ...who, plan: PLAN })).toBe('plan');
  });

  it('with a plan the cues follow its own rates and pauses, and say whose', () => {
    const result = screenedBy({ ...allNo, cleft: true }, PLAN);
    expect(result.say).toBe('withPlan');
    expect(result.profile.buckets.lasting.rateMlPerMin).toMatchObject({
      value: 4,
      source: 'plan of feeding clinic',
    });
    const { cues } = pace(inputsOf(plan), null, result);
    expect(becauseText(cues.find((cue) => cue.kind === 'tilt-down')!.because, 'en')).toMatch(/7 mL\/min/);
    expect(becauseText(cues.find((cue) => cue.kind === 'breath-pause')!.because, 'en')).toMatch(
      /^[5-9] sucks/,
    );
    expect(cues.some((cue) => cue.kind === 'offer-stop')).toBe(false);
  });

  it('a plan out of the range of a figure is refused by name', () => {
    const wild = { ...PLAN, pouring: { rateMlPerMin: 400, depthMl: 3 } };
    expect(() => screenedBy(allNo, wild)).toThrow(/buckets\.pouring\.rateMlPerMin/);
  });
});

describe('a newborn who falls asleep early', () => {
  const fading = {
    sucks: habitSucks(0, 420, { sucks: [5, 8], pauseSec: [3, 6] }, seededDraws(2)),
    endSec: 660,
  };
  const run = (babyAgeDays: number | null) =>
    pace(inputsOf(fading), null, { guidance: { ...FAMILY_GUIDANCE, babyAgeDays } }).cues.map(
      (cue) => cue.kind,
    );

  it('is not said to be full: the clinician is named instead', () => {
    expect(run(20)).toContain('asleep-early');
    expect(run(20)).not.toContain('offer-stop');
  });

  it('an older baby, or one whose age is not known, is asked for signs of fullness', () => {
    for (const age of [60, null]) {
      expect(run(age)).toContain('offer-stop');
      expect(run(age)).not.toContain('asleep-early');
    }
  });
});
