/** Indices on traces made by hand, whose answers are known. */
import { describe, expect, it } from 'vitest';
import { INDEX_KEYS, INDICES, type IndexKey } from '../../src/research/indices/definitions.ts';
import { type IndexValue, indicesOf, isGiven } from '../../src/research/indices/indices.ts';
import { percentile, relative } from '../../src/research/indices/intervals.ts';
import type { RefinedFeed } from '../../src/sensing/index.ts';

/** Ten bursts of eight sucks a second apart, five seconds' pause from the last suck to the first of the next. */
const BURSTS = 10;
const SUCKS = 8;
const BURST_SEC = 7;
const PAUSE_SEC = 5;
const ML_PER_SUCK = 0.5;

const suckAtSec = Array.from({ length: BURSTS }, (_, burst) =>
  Array.from({ length: SUCKS }, (_, suck) => burst * (BURST_SEC + PAUSE_SEC) + suck),
).flat();

function handMade(change: Partial<RefinedFeed> = {}): RefinedFeed {
  const { suckAtSec: sucks = suckAtSec } = change;
  const lengthSec = sucks.at(-1)!;
  const atSec = Array.from({ length: lengthSec * 2 + 1 }, (_, i) => i / 2);
  const intakeMl = atSec.map((sec) => ML_PER_SUCK * sucks.filter((at) => at <= sec).length);
  return {
    atSec,
    intakeMl,
    milkMl: intakeMl.map((ml) => 90 - ml),
    milkSdMl: atSec.map(() => 0.5),
    flowMlPerMin: atSec.map(() => 20),
    flowSdMlPerMin: atSec.map(() => 1),
    quality: atSec.map(() => 'good' as const),
    teatInMouth: atSec.map(() => true),
    totals: { intakeMl: 40, spiltMl: 0, addedMl: 0 },
    suckAtSec: sucks,
    events: [],
    ...change,
  };
}

const given = (key: IndexKey, refined = handMade(), portionMl: number | null = 80): IndexValue => {
  const index = indicesOf({ refined, portionMl, sucksUncertain: false })[key];
  if (!isGiven(index)) throw new Error(`${key} is missing: ${index.missing}`);
  return index;
};
const missing = (key: IndexKey, refined: RefinedFeed, sucksUncertain = false) => {
  const index = indicesOf({ refined, portionMl: null, sucksUncertain })[key];
  return isGiven(index) ? 'given' : index.missing;
};

describe('indices of a feed made by hand', () => {
  const lengthSec = 115;
  it.each<[IndexKey, number]>([
    // The milk of the first suck is counted before the first row.
    ['intakeMl', 39.5],
    ['durationMin', lengthSec / 60],
    ['transferRateMlPerMin', (60 * 39.5) / lengthSec],
    ['overallTransferPercent', (100 * 39.5) / 80],
    ['suckCount', 80],
    ['suckRatePerMin', 60],
    ['burstCount', 10],
    ['sucksPerBurst', 8],
    ['burstLengthSec', 7],
    ['pauseLengthSec', 5],
    ['volumePerSuckMl', 39.5 / 80],
    ['suckingSharePercent', (100 * 70) / lengthSec],
    ['flowWhileSuckingMlPerMin', (60 * 39.5) / 70],
    ['flowMedianMlPerMin', 20],
    ['flowP90MlPerMin', 20],
    ['highFlowPeriods', 1],
    ['leakageMl', 0],
  ])('%s is %d', (key, value) => {
    const index = given(key);
    expect(index.value).toBeCloseTo(value, 6);
    expect(index.low).toBeLessThanOrEqual(value);
    expect(index.high).toBeGreaterThanOrEqual(value);
  });

  it('has half of the milk in the middle burst', () => {
    // Nine bursts, 36 mL, of which the first suck's are there at the latch: 35.5 / 2 + 0.5 = 18.25, so suck 37, the fifth of burst 5.
    const nine = handMade({ suckAtSec: suckAtSec.slice(0, 9 * SUCKS) });
    expect(given('timeToHalfMin', nine).value * 60).toBeCloseTo(52, 0);
  });

  it('names each index with unit, formula and source', () => {
    for (const key of INDEX_KEYS) {
      const { unit, formula, source, definition } = INDICES[key];
      expect([key, unit.length > 0, formula.length > 0, source.length > 0, definition.endsWith('.')]).toEqual(
        [key, true, true, true, true],
      );
    }
  });
});

describe('what cannot be told is missing, with its reason', () => {
  it('sucks of a weak or chewing baby', () => {
    for (const key of ['suckCount', 'suckRatePerMin', 'volumePerSuckMl', 'pauseLengthSec'] as const)
      expect(missing(key, handMade(), true)).toBe('sucks-uncertain');
    expect(missing('intakeMl', handMade(), true)).toBe('given');
  });

  it('shares of a portion that nobody entered, and five minutes of a shorter feed', () => {
    expect(missing('overallTransferPercent', handMade())).toBe('no-portion');
    expect(
      indicesOf({ refined: handMade(), portionMl: 80, sucksUncertain: false }).proficiencyPercent,
    ).toEqual({ missing: 'shorter-than-five-minutes' });
  });

  it('percentiles of a flow that is not known well', () => {
    const { atSec } = handMade();
    expect(missing('flowP90MlPerMin', handMade({ flowSdMlPerMin: atSec.map(() => 6) }))).toBe(
      'too-uncertain',
    );
    const quality = atSec.map((_, i) => (i % 2 ? ('degraded' as const) : ('good' as const)));
    expect(missing('flowP90MlPerMin', handMade({ quality }))).toBe('flow-degraded');
  });

  it('high-flow periods, while the flow is nearer to their limit than it is known', () => {
    const { atSec } = handMade();
    // The limit is 6 mL/min: 8 known to 2 may be less, 20 known to 2 is more.
    const known = (flow: number) =>
      handMade({ flowMlPerMin: atSec.map(() => flow), flowSdMlPerMin: atSec.map(() => 2) });
    expect(missing('highFlowPeriods', known(8))).toBe('too-uncertain');
    expect(given('highFlowPeriods', known(20))).toEqual({ value: 1, low: 1, high: 1 });
  });

  it('whatever may be off by more than a tenth, however small its number is', () => {
    // Milk known to 3 mL at each end: 8.3 mL of 39.5 either way; 0.5 mL a suck, but not to a tenth.
    const rough = handMade({ milkSdMl: handMade().atSec.map(() => 3) });
    for (const key of ['intakeMl', 'volumePerSuckMl', 'transferRateMlPerMin'] as const)
      expect(missing(key, rough)).toBe('too-uncertain');
    expect(missing('burstCount', rough)).toBe('given');
  });

  it('the time of half of the milk, where it may as well have been before a pause', () => {
    // With ten bursts half is reached at the first suck of burst 6, at 60 s; with a suck's milk less it would be 55 s.
    expect(missing('timeToHalfMin', handMade())).toBe('too-uncertain');
  });

  it('pauses in which the nipple was out', () => {
    const teatInMouth = handMade().atSec.map((sec) => sec % 12 < 9 || sec % 12 > 11);
    expect(missing('pauseLengthSec', handMade({ teatInMouth }))).toBe('too-few-bursts');
  });

  it('everything, of a feed in which the nipple never was in the mouth', () => {
    const { atSec } = handMade();
    expect(missing('durationMin', handMade({ teatInMouth: atSec.map(() => false) }))).toBe('not-weighed');
  });
});

/** Ten bursts of eight sucks a second apart, eight seconds from the last suck to the first of the next. */
const farApart = Array.from({ length: BURSTS }, (_, burst) =>
  Array.from({ length: SUCKS }, (_, suck) => burst * (BURST_SEC + 8) + suck),
).flat();
const sorted = (...sec: number[]): number[] => sec.sort((a, b) => a - b);
const ofSucks = (key: IndexKey, sucks: number[]) => given(key, handMade({ suckAtSec: sucks }));

describe('intervals of sucks span the ways in which the sucks may be read', () => {
  // The first latch may hide a suck in all of these feeds.
  it('one suck alone may be none; a movement before a burst may have been counted once', () => {
    const sucks = sorted(...farApart, 26);
    expect(ofSucks('suckCount', sucks)).toEqual({ value: 81, low: 79, high: 82 });
    expect(ofSucks('burstCount', sucks)).toEqual({ value: 10, low: 10, high: 10 });
    expect(ofSucks('suckCount', farApart)).toEqual({ value: 80, low: 79, high: 81 });
  });

  it('a long time within a burst may hide a suck, or be a pause', () => {
    const sucks = farApart.filter((sec) => sec !== 34);
    expect(ofSucks('suckCount', sucks).high).toBe(80);
    expect(ofSucks('burstCount', sucks)).toEqual({ value: 10, low: 10, high: 11 });
    // Without the long time 68 intervals of 1 s: 60 a minute; with it 69 in 70 s.
    expect(ofSucks('suckRatePerMin', sucks).value).toBeCloseTo((60 * 69) / 70, 9);
    expect(ofSucks('suckRatePerMin', sucks).high).toBeGreaterThan(60);
  });

  it('pauses as long as the limit between bursts leave open how many bursts there were', () => {
    const close = Array.from({ length: BURSTS * SUCKS }, (_, i) => i + 1.55 * Math.floor(i / SUCKS));
    expect(missing('burstCount', handMade({ suckAtSec: close }))).toBe('too-uncertain');
    const clear = Array.from({ length: BURSTS * SUCKS }, (_, i) => i + 1.65 * Math.floor(i / SUCKS));
    expect(ofSucks('burstCount', clear)).toEqual({ value: 10, low: 10, high: 10 });
  });

  it('the suck with which the mouth latches may be hidden', () => {
    const { atSec } = handMade({ suckAtSec: farApart });
    const outSec = [57, 59.5] as const;
    const teatInMouth = atSec.map((sec) => sec < outSec[0] || sec >= outSec[1]);
    expect(given('suckCount', handMade({ suckAtSec: farApart, teatInMouth })).high).toBe(82);
    // Where the first suck comes more than a suck's time later, a suck before it would have been seen.
    const early = atSec.map((sec) => sec < 55 || sec >= 58);
    expect(given('suckCount', handMade({ suckAtSec: farApart, teatInMouth: early })).high).toBe(81);
  });

  it('while nothing is measured there may be sucks', () => {
    const { atSec } = handMade({ suckAtSec: farApart });
    const isBlind = (sec: number) => sec > 53 && sec <= 58;
    const quality = atSec.map((sec) => (isBlind(sec) ? ('invalid' as const) : ('good' as const)));
    const teatInMouth = atSec.map((sec) => !isBlind(sec));
    const count = given('suckCount', handMade({ suckAtSec: farApart, quality, teatInMouth }));
    expect(count).toEqual({ value: 80, low: 79, high: 85 });
  });

  it('the end of a feed is seen late, if it is seen', () => {
    const teatInMouth = handMade().atSec.map((sec) => sec <= 100);
    const { value, low, high } = given('durationMin', handMade({ teatInMouth }));
    // A mouth that lets go is confirmed after 0.6 s, one that latches after 0.25 s, both on rows 0.4 s apart (src/sensing/mouth).
    expect(value).toBe(high);
    expect((value - low) * 60).toBeGreaterThan(0.6 - 0.25 + 0.4);
    const cut = given('durationMin');
    expect((cut.high - cut.value) * 60).toBeCloseTo((cut.value - cut.low) * 60, 9);
  });
});

describe('uncertainty', () => {
  it('adds relative uncertainties of a quotient in squares (GUM, JCGM 100:2008, 5.1.6)', () => {
    expect(relative({ value: 50, sd: 1.5 }, { value: 10, sd: 0.4 })).toBeCloseTo(0.05, 9);
  });

  it('takes percentiles by linear interpolation (type 7 of Hyndman and Fan 1996)', () => {
    expect(percentile([1, 2, 3, 4], 0.5)).toBe(2.5);
    expect(percentile([10, 20, 30, 40, 50], 0.9)).toBeCloseTo(46, 9);
  });
});
