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

describe('uncertainty', () => {
  it('adds relative uncertainties of a quotient in squares (GUM, JCGM 100:2008, 5.1.6)', () => {
    expect(relative({ value: 50, sd: 1.5 }, { value: 10, sd: 0.4 })).toBeCloseTo(0.05, 9);
  });

  it('takes percentiles by linear interpolation (type 7 of Hyndman and Fan 1996)', () => {
    expect(percentile([1, 2, 3, 4], 0.5)).toBe(2.5);
    expect(percentile([10, 20, 30, 40, 50], 0.9)).toBeCloseTo(46, 9);
  });
});
