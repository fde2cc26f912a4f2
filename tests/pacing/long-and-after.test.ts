import { describe, expect, it } from 'vitest';
import { becauseText } from '../../src/pacing/cues/words-because.ts';
import { BARE_GUIDANCE, FAMILY_GUIDANCE, type Guidance } from '../../src/pacing/index.ts';
import { seededDraws } from '../support/distributions.ts';
import { type FeedPlan, inputsOf, pace } from '../support/pacing-inputs.ts';
import { habitSucks, steadySucks } from '../support/suck-trains.ts';

const settled = (fromSec: number, toSec: number) =>
  habitSucks(fromSec, toSec, { sucks: [5, 8], pauseSec: [3, 6] }, seededDraws(4));
const cuesOf = (plan: FeedPlan, guidance: Guidance = FAMILY_GUIDANCE) =>
  pace(inputsOf(plan), null, { guidance }).cues;

describe('little coming', () => {
  const little = (flowMlPerMin: number, toSec = 200) =>
    cuesOf({ sucks: steadySucks(flowMlPerMin, 0, toSec), endSec: toSec }).filter(
      (cue) => cue.kind === 'little-coming',
    );

  it('asks for nipple and vent after 2 minutes of sucking under 1 mL/min', () => {
    const cues = little(0.6);
    expect(cues).toHaveLength(1);
    expect(cues[0]!.atSec).toBeCloseTo(120, -1);
    expect(becauseText(cues[0]!.because, 'en')).toMatch(
      /^1\d\d sucks in 2 min of active sucking brought 1\.2 mL\.$|^1\d\d sucks in 120 s/,
    );
  });

  it('not at 1.5 mL/min, and not in pauses', () => {
    expect(little(1.5)).toEqual([]);
    expect(cuesOf({ sucks: steadySucks(0.6, 0, 60), endSec: 400 }).map((cue) => cue.kind)).not.toContain(
      'little-coming',
    );
  });

  it('is never read as fullness', () => {
    const plan = { sucks: [...settled(0, 480), ...steadySucks(0.5, 480, 900)], endSec: 900 };
    const kinds = cuesOf(plan).map((cue) => cue.kind);
    expect(kinds).toContain('little-coming');
    expect(kinds).not.toContain('offer-stop');
  });

  it('is not said of a dry hole', () => {
    const inputs = Array.from(inputsOf({ sucks: steadySucks(0.6, 0, 200), endSec: 200 }), (input) => ({
      ...input,
      headMm: -5,
      coverTiltDeg: 120,
    }));
    const { cues } = pace(inputs, null, { guidance: FAMILY_GUIDANCE });
    expect(cues.map((cue) => cue.kind)).not.toContain('little-coming');
  });
});

describe('a long feed', () => {
  it('is mentioned once, past 30 minutes', () => {
    const cues = cuesOf({ sucks: settled(10, 2200), endSec: 2200 }).filter((cue) => cue.kind === 'long-feed');
    expect(cues).toHaveLength(1);
    expect(cues[0]!.atSec).toBeCloseTo(1800, 0);
    expect(becauseText(cues[0]!.because, 'en')).toBe('30 min since the first suck.');
  });
});

describe('after the feed', () => {
  const guidance: Guidance = { ...FAMILY_GUIDANCE, after: true };
  const ended = {
    sucks: settled(0, 480),
    endSec: 2600,
    away: [{ fromSec: 700, toSec: 2600, tiltDeg: 20 }],
  };
  const kindsAt = (plan: FeedPlan, with_: Guidance) =>
    cuesOf(plan, with_)
      .filter((cue) => cue.kind === 'hold-upright' || cue.kind === 'hunger-again')
      .map((cue) => [cue.kind, Math.round(cue.atSec)]);

  it('upright a minute after the nipple went out, a second look after 25 minutes, once', () => {
    expect(kindsAt(ended, guidance)).toEqual([
      ['hold-upright', 760],
      ['hunger-again', 2200],
    ]);
  });

  it('is optional', () => {
    expect(kindsAt(ended, FAMILY_GUIDANCE)).toEqual([]);
  });

  it('a set-down is not the end: nothing without "enough?"', () => {
    const setDown = {
      sucks: settled(0, 300),
      endSec: 1200,
      away: [{ fromSec: 300, toSec: 1200, tiltDeg: 10 }],
    };
    expect(kindsAt(setDown, guidance)).toEqual([]);
  });

  it('a little more is part of the same feed, and is offered once', () => {
    const again = {
      sucks: [...settled(0, 480), ...settled(2300, 2350)],
      endSec: 4400,
      away: [
        { fromSec: 700, toSec: 2300, tiltDeg: 20 },
        { fromSec: 2360, toSec: 4400, tiltDeg: 20 },
      ],
    };
    expect(kindsAt(again, guidance).map(([kind]) => kind)).toEqual([
      'hold-upright',
      'hunger-again',
      'hold-upright',
    ]);
  });
});

describe('burps and change of arms as a family wants them', () => {
  const plan = { sucks: settled(0, 900), endSec: 900 };
  const volumes = (guidance: Guidance, portionMl: number | null = null) =>
    pace(inputsOf(plan), portionMl, { guidance }).cues.filter((cue) => cue.kind === 'burp');

  it('each ounce: half as many as each half ounce', () => {
    const half = volumes(BARE_GUIDANCE).length;
    const whole = volumes({ ...BARE_GUIDANCE, burp: 'ounce' }).length;
    expect(half).toBeGreaterThanOrEqual(4);
    expect(whole).toBe(Math.floor(half / 2));
  });

  it('each two ounces, the low end of what the AAP says (60 to 90 mL): half as many again', () => {
    const whole = volumes({ ...BARE_GUIDANCE, burp: 'ounce' }).length;
    expect(volumes({ ...BARE_GUIDANCE, burp: 'two-ounces' })).toHaveLength(Math.floor(whole / 2));
  });

  it('each ounce: who sucks without a pause is interrupted once one and a half ounces are gone, no later', () => {
    const nonstop = { sucks: steadySucks(6, 0, 1000), endSec: 1000 };
    const [first] = pace(inputsOf(nonstop), null, {
      guidance: { ...BARE_GUIDANCE, burp: 'ounce' },
    }).cues.filter(({ kind }) => kind === 'burp');
    // 1.5 US fl oz are 44.36 mL (NIST Handbook 44, appendix C); at 6 mL a minute in 444 s.
    expect(first!.atSec).toBeGreaterThan(443);
    expect(first!.atSec).toBeLessThan(445);
  });

  it('half-way: once, past half of the portion, and without a fraction in words', () => {
    const cues = volumes({ ...BARE_GUIDANCE, burp: 'half-way-and-end' }, 60);
    expect(cues).toHaveLength(1);
    expect(becauseText(cues[0]!.because, 'en')).toMatch(
      /^First pause past half-way, \d\.\d s without a suck\.$/,
    );
  });

  it('half-way of an unknown amount: each ounce', () => {
    expect(volumes({ ...BARE_GUIDANCE, burp: 'half-way-and-end' })).toHaveLength(
      volumes({ ...BARE_GUIDANCE, burp: 'ounce' }).length,
    );
  });

  it('the other side after 9 minutes without a portion, in a pause; with one, half-way', () => {
    const switches = (portionMl: number | null, guidance: Guidance) =>
      pace(inputsOf(plan), portionMl, { guidance }).cues.filter((cue) => cue.kind === 'switch-side');
    const [byTime] = switches(null, FAMILY_GUIDANCE);
    expect(byTime!.atSec).toBeGreaterThan(540);
    expect(byTime!.atSec).toBeLessThan(560);
    expect(becauseText(byTime!.because, 'en')).toMatch(/^First pause after 9 min( \d+ s)? on one side/);
    expect(switches(40, FAMILY_GUIDANCE)).toHaveLength(1);
    expect(switches(40, FAMILY_GUIDANCE)[0]!.atSec).toBeLessThan(540);
    expect(switches(null, BARE_GUIDANCE)).toEqual([]);
  });
});
