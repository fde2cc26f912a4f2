import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { needOf } from '../../src/feed/recording/guided.ts';
import { cueOf, kindOf } from '../../src/pacing/cues/shown-cues.ts';
import { BARE_GUIDANCE, FAMILY_GUIDANCE, type Guidance, quietLevel } from '../../src/pacing/index.ts';
import { seededDraws } from '../support/distributions.ts';
import { type Away, inputsOf, pace } from '../support/pacing-inputs.ts';
import { habitSucks, steadySucks } from '../support/suck-trains.ts';

const settled = (toSec: number, seed = 4) =>
  habitSucks(0, toSec, { sucks: [5, 8], pauseSec: [3, 6] }, seededDraws(seed));
/** Only the beginnings of what was shown. */
const begun = (shown: ReturnType<typeof pace>['shown']) => shown.filter((one) => one.kind !== null);

/** Forty minutes with brisk sucking and a steep hold, so that as many cues as possible fire, hints too. */
const briskAndSteep = () =>
  Array.from(
    inputsOf({
      sucks: habitSucks(0, 2400, { sucks: [9, 14], pauseSec: [2, 3] }, seededDraws(8)),
      endSec: 2400,
    }),
    (input) => ({ ...input, tiltDeg: 140, headMm: 50, coverTiltDeg: 92 }),
  );

describe('no needless cues', () => {
  it('one cue in two minutes at most, milk that pours excepted, and eight in a feed', () => {
    const inputs = briskAndSteep();
    const { cues, shown } = pace(inputs, null, { guidance: FAMILY_GUIDANCE });
    expect(cues.length).toBeGreaterThan(15);
    const patient = begun(shown).filter((one) => kindOf(one.kind!) !== 'tilt-down');
    expect(patient.length).toBeLessThanOrEqual(8);
    for (const [i, one] of patient.slice(1).entries()) {
      expect(one.fromSec - patient[i]!.fromSec).toBeGreaterThanOrEqual(120 - 1e-6);
    }
  });

  it('at the quietest a quarter of it: two cues in a feed at most, eight minutes apart, and no hints', () => {
    const inputs = briskAndSteep();
    const patient = (quiet: Guidance['quiet']) =>
      begun(pace(inputs, null, { guidance: { ...FAMILY_GUIDANCE, quiet } }).shown).filter(
        ({ kind }) => kind !== 'tilt-down' && kind !== 'keep-low',
      );
    const [usual, quietest] = [patient('usual'), patient('quietest')];
    expect(usual.length).toBeGreaterThan(2);
    expect(quietest.length).toBeLessThanOrEqual(2);
    for (const [i, one] of quietest.slice(1).entries())
      expect(one.fromSec - quietest[i]!.fromSec).toBeGreaterThanOrEqual(480 - 1e-6);
    const isHint = ({ kind }: (typeof usual)[number]) => !cueOf(kind!)!.calls;
    expect(usual.some(isHint)).toBe(true);
    expect(quietest.some(isHint)).toBe(false);
  });

  it('the record stays whole: what is not shown is there', () => {
    const plan = { sucks: settled(1800), endSec: 1800 };
    const usual = pace(inputsOf(plan), null, { guidance: BARE_GUIDANCE });
    const quietest = pace(inputsOf(plan), null, { guidance: { ...BARE_GUIDANCE, quiet: 'quietest' } });
    expect(quietest.cues).toEqual(usual.cues);
    expect(begun(quietest.shown).length).toBeLessThan(begun(usual.shown).length);
  });

  it('a cue begins in a suck pause only', () => {
    const plan = { sucks: settled(1200, 6), endSec: 1200 };
    for (const one of begun(pace(inputsOf(plan)).shown)) {
      const last = plan.sucks.findLast((suck) => suck.atSec <= one.fromSec)!;
      expect(one.fromSec - last.atSec).toBeGreaterThanOrEqual(2 - 0.06);
    }
  });

  it('a caregiver who burps unasked, pauses and holds gently gets no cue', () => {
    // A burp each 13 mL or so, five to seven sucks at a time.
    const away: Away[] = [];
    let sucks = settled(1200);
    let sinceMl = 0;
    let spare = 0;
    const kept: typeof sucks = [];
    for (const suck of sucks) {
      sinceMl += suck.ml;
      kept.push({ ...suck, atSec: suck.atSec + spare });
      if (sinceMl < 13) continue;
      const fromSec = suck.atSec + spare + 1;
      away.push({ fromSec, toSec: fromSec + 25, tiltDeg: 30 });
      spare += 28;
      sinceMl = 0;
    }
    sucks = kept;
    const { shown } = pace(inputsOf({ sucks, away, endSec: sucks.at(-1)!.atSec + 5 }), null, {
      guidance: FAMILY_GUIDANCE,
    });
    expect(begun(shown).filter((one) => one.kind !== 'switch-side')).toEqual([]);
  });

  it('a burp taken a little after its cue, unasked, brings no second burp cue', () => {
    // Bursts of 1.3 mL; burps at 13 mL first, then at 17 mL: the cue at 15 is recorded, not shown.
    const away = [
      { fromSec: 119, toSec: 135, tiltDeg: 30 },
      { fromSec: 291, toSec: 310, tiltDeg: 30 },
    ];
    const sucks = Array.from({ length: 25 }, (_, burst) => burst * 12)
      .filter((fromSec) => fromSec < 108 || (fromSec >= 136 && fromSec < 286))
      .flatMap((fromSec) => steadySucks(7.8, fromSec, fromSec + 10));
    const { cues, shown } = pace(inputsOf({ sucks, away, endSec: 312 }));
    expect(cues.map((cue) => cue.kind)).toEqual(['burp']);
    expect(begun(shown)).toEqual([]);
  });

  it('a burp is not asked of a baby that may be asleep', () => {
    // "Too fast" first; the burp that waits behind it could begin two minutes later, but there is no suck any more.
    const { cues, shown } = pace(inputsOf({ sucks: steadySucks(24, 0, 60), endSec: 400 }));
    expect(cues.map((cue) => cue.kind)).toContain('burp');
    expect(begun(shown).map((one) => one.kind)).not.toContain('burp');
  });
});

describe('quieter by itself', () => {
  const calm = { tiltDowns: 0, cues: 2, durationSec: 900 };
  const rough = { tiltDowns: 3, cues: 7, durationSec: 900 };

  it('after three feeds that needed few cues, more so after six, and back at once', () => {
    expect(quietLevel([])).toBe('usual');
    expect(quietLevel([calm, calm])).toBe('usual');
    expect(quietLevel([calm, calm, calm])).toBe('quieter');
    expect(quietLevel(Array(6).fill(calm))).toBe('quietest');
    expect(quietLevel([rough, ...Array(6).fill(calm)])).toBe('usual');
    expect(quietLevel([calm, calm, calm, rough])).toBe('quieter');
  });

  it('feeds under five minutes tell nothing', () => {
    const short = { ...calm, durationSec: 200 };
    expect(quietLevel([short, calm, short, calm, calm])).toBe('quieter');
    expect(quietLevel([short, short, short])).toBe('usual');
  });

  it('counts from the record', () => {
    const past = { atMs: 0, intakeMl: 60, durationSec: 700, caregiver: null };
    expect(needOf({ ...past, cueCounts: { 'tilt-down': 1, burp: 2 } })).toEqual({
      tiltDowns: 1,
      cues: 3,
      durationSec: 700,
    });
  });

  it('"too fast" is shown at every level', () => {
    for (const quiet of ['usual', 'quieter', 'quietest'] as const) {
      const { shown } = pace(inputsOf({ sucks: steadySucks(24, 0, 60), endSec: 60 }), null, {
        guidance: { ...BARE_GUIDANCE, quiet },
      });
      expect(shown[0]).toMatchObject({ kind: 'tilt-down' });
    }
  });

  it('never grows louder from a calmer feed', () => {
    const order = ['usual', 'quieter', 'quietest'];
    const need = fc.record({
      tiltDowns: fc.integer({ min: 0, max: 4 }),
      cues: fc.integer({ min: 0, max: 8 }),
      durationSec: fc.constant(900),
    });
    fc.assert(
      fc.property(fc.array(need, { minLength: 1, maxLength: 8 }), (feeds) => {
        const calmer = feeds.map((feed) => ({ ...feed, tiltDowns: 0, cues: 0 }));
        expect(order.indexOf(quietLevel(calmer))).toBeGreaterThanOrEqual(order.indexOf(quietLevel(feeds)));
      }),
      { numRuns: 50 },
    );
  });
});
