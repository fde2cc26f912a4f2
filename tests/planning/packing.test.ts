import { describe, expect, it } from 'vitest';
import { FieldError } from '../../src/base/errors.ts';
import { mlFromFlOz } from '../../src/base/units.ts';
import { type PackingKnown, packFor } from '../../src/planning/bag/packing.ts';
import { readPackingAsk } from '../../src/planning/bag/packing-ask.ts';
import { USUAL_RULES } from '../../src/planning/bag/packing-rules.ts';
import { readPackingSettings, rulesOf } from '../../src/planning/bag/packing-settings.ts';
import type { KnownFeed } from '../../src/planning/intake/known-feeds.ts';
import { container } from './milk-on-hand.ts';

const NOW = Date.parse('2026-05-12T02:00:00Z');
const ASK = {
  birthDay: '2026-02-01',
  day: '2026-05-12',
  from: '08:30',
  until: '17:30',
  feeds: 3,
  ill: false,
};

const known = (part: Partial<PackingKnown> = {}): PackingKnown => ({
  feeds: [],
  milk: null,
  settings: readPackingSettings(null),
  nowMs: NOW,
  zone: 'America/Chicago',
  ...part,
});

/** Three bottles a day, 3 hours apart, for so many days. */
const pastFeeds = (days: number, ml: number, offeredMl = 90): KnownFeed[] =>
  Array.from({ length: 3 * days }, (_, i) => ({
    atMs: NOW - (Math.floor(i / 3) * 24 + 4 + 3 * (i % 3)) * 3_600_000,
    durationSec: 900,
    leftBottleMl: ml + (i % 3) - 1,
    offeredMl,
  }));

const failure = (act: () => unknown): FieldError => {
  try {
    act();
  } catch (error) {
    if (error instanceof FieldError) return error;
    throw error;
  }
  throw new Error('nothing was refused');
};

describe('what to pack', () => {
  it('is planned from the published curve while nothing is known, as if there were milk enough, and says so', () => {
    const answer = packFor(ASK, known());
    expect(answer.hours).toBe(9);
    expect(answer.fromMs).toBe(Date.parse('2026-05-12T13:30:00Z'));
    expect([answer.ageDays, answer.bottleFeeds, answer.asIfEnough]).toEqual([100, 0, true]);
    expect(answer.ownShare).toBe(0);
    // 51 − 1.4·100 + 180·ln 100 = 740 mL a day (Rios-Leyvraz and Yao 2023), so about 278 mL in 9 hours.
    expect(answer.portion.total.middleMl).toBeGreaterThan(250);
    expect(answer.portion.total.middleMl).toBeLessThan(300);
    expect(answer.plan?.plain.map(({ name }) => name)).toEqual(['rule-of-thumb']);
    for (const plain of answer.plan!.plain) expect(plain).not.toHaveProperty('bag');
    for (const { source } of answer.assumptions) expect(source.length).toBeGreaterThan(10);
    expect(JSON.parse(JSON.stringify(answer))).toEqual(answer);
  });

  it('packs 9 to 13½ fl oz in 3 to 5 bottles for 9 hours while nothing is known, and claims honestly what that does', () => {
    for (const birthDay of ['2026-02-11', '2026-03-20', '2025-12-20']) {
      const { plan, ruleOfThumb, withinRuleOfThumb } = packFor({ ...ASK, birthDay }, known());
      const flOz = plan!.bottles.reduce((sum, { ml }) => sum + ml, 0) / mlFromFlOz(1);
      expect(flOz).toBeGreaterThanOrEqual(9);
      expect(flOz).toBeLessThanOrEqual(13.5 + 1e-6);
      expect([3, 4, 5]).toContain(plan!.bottles.length);
      expect(withinRuleOfThumb).toBe(true);
      expect(ruleOfThumb.highMl).toBeCloseTo(mlFromFlOz(13.5), 6);
      expect(plan!.limitedBy).toBe(plan!.meetsLimit ? null : 'rule-of-thumb');
    }
  });

  it('says what the milk on hand will do where it is little, with the rule of thumb beside it', () => {
    const { plan } = packFor(ASK, known({ milk: [container('A', 130), container('B', 100)] }));
    expect(plan!.meetsLimit).toBe(false);
    expect(plan!.limitedBy).toBe('milk');
    expect(plan!.bottles.length).toBeLessThanOrEqual(5);
  });

  it.each([
    ['under-six-weeks', { birthDay: '2026-05-07' }, {}],
    ['born-early', {}, { answers: { bornEarly: true, slowToGain: false } }],
    ['slow-to-gain', {}, { answers: { bornEarly: false, slowToGain: true } }],
    ['ill', { ill: true }, {}],
  ])('claims nothing about running short of a baby %s', (gate, ask, part) => {
    const answer = packFor({ ...ASK, ...ask }, known(part));
    expect([answer.gates, answer.mayClaim]).toEqual([[gate], false]);
    expect(answer.plan).not.toBeNull();
  });

  it('says from six months on that most babies eat solids too, and claims on', () => {
    const answer = packFor({ ...ASK, birthDay: '2025-10-01' }, known());
    expect([answer.gates, answer.mayClaim]).toEqual([['past-six-months'], true]);
    expect(packFor(ASK, known()).gates).toEqual([]);
  });

  it('goes by its own record: oftener short than it claimed makes it claim more', () => {
    const promise = (short: boolean, daysAgo: number) => ({
      atMs: NOW - daysAgo * 86_400_000,
      fromMs: NOW - daysAgo * 86_400_000,
      untilMs: NOW - daysAgo * 86_400_000 + 3_600_000,
      ids: [],
      claimed: { shortChance: 0.05, modelChance: 0.05, thrownMl: 60, bottles: 4 },
      short,
      thrownMl: 50,
      feeds: 3,
      cameBack: [],
    });
    const feeds = pastFeeds(14, 80, 120);
    const days = Array.from({ length: 20 }, (_, i) => promise(i % 5 === 4, i + 1));
    const [plain, wiser] = [packFor(ASK, known({ feeds })), packFor(ASK, known({ feeds, promises: days }))];
    expect(wiser.record).toMatchObject({ days: 20, realisedShort: 4 });
    expect(wiser.record.shift).toBeGreaterThan(0.8);
    const totalOf = ({ plan }: typeof plain) => plan!.bottles.reduce((sum, { ml }) => sum + ml, 0);
    expect(totalOf(wiser)).toBeGreaterThan(totalOf(plain));
    expect(wiser.plan!.outcome.shortChance).toBeGreaterThan(wiser.plan!.modelChance);
    expect(wiser.plan!.outcome.shortChance).toBeLessThanOrEqual(0.05 + 1e-9);
  });

  it('goes over to the baby’s own feeds as they come in', () => {
    const some = packFor(ASK, known({ feeds: pastFeeds(2, 60) }));
    const many = packFor(ASK, known({ feeds: pastFeeds(14, 60) }));
    expect(many.ownShare).toBeGreaterThan(some.ownShare);
    expect(many.portion.perFeed.middleMl).toBeLessThan(some.portion.perFeed.middleMl + 1);
    expect(many.usualMinutes).toEqual({ low: 15, high: 15 });
  });

  it('packs no bottle above the usual size before four days of change ask for it', () => {
    const settings = readPackingSettings({ usualBottleMl: mlFromFlOz(2.5) });
    const largest = (feeds: KnownFeed[]) =>
      Math.max(...packFor(ASK, known({ feeds, settings })).plan!.bottles.map(({ ml }) => ml));
    expect(packFor(ASK, known({ feeds: pastFeeds(3, 118), settings })).size.because).toBe('unchanged');
    expect(largest(pastFeeds(3, 118))).toBeLessThanOrEqual(mlFromFlOz(2.5) + 0.01);
    const later = packFor(ASK, known({ feeds: pastFeeds(5, 118), settings }));
    expect(later.size).toEqual({ sizeMl: mlFromFlOz(3), because: 'more', days: 4 });
    expect(later.largerThanUsual).toBe(false);
  });

  it('allows larger bottles, and says so, where few bottles are allowed', () => {
    const settings = readPackingSettings({ usualBottleMl: mlFromFlOz(2), mostBottles: 5, shortLimit: 0.1 });
    const answer = packFor(ASK, known({ feeds: pastFeeds(10, 85, 60), settings }));
    expect(answer.size.sizeMl).toBeCloseTo(mlFromFlOz(2.5), 6);
    expect(answer.largerThanUsual).toBe(true);
    expect(Math.max(...answer.plan!.bottles.map(({ ml }) => ml))).toBeGreaterThan(mlFromFlOz(2.5) + 1);
    expect(answer.plan!.bottles.length).toBeLessThanOrEqual(5);
  });

  it('keeps the portion where the milk is too little, and says what is the matter', () => {
    const answer = packFor(ASK, known({ milk: [container('A', 20)] }));
    expect(answer.plan).toBeNull();
    expect(answer.trouble).toMatchObject({ code: 'milk-too-little' });
    expect(answer.portion.total.middleMl).toBeGreaterThan(200);
  });

  it('goes through the night when the end is before the start', () => {
    const answer = packFor({ ...ASK, from: '21:00', until: '06:00' }, known());
    expect(answer.hours).toBe(9);
    // The night when clocks go forward in Chicago, 8 March 2026 (IANA): an hour less.
    const spring = packFor(
      { ...ASK, day: '2026-03-07', from: '21:00', until: '06:00' },
      known({ nowMs: Date.parse('2026-03-07T12:00:00Z') }),
    );
    expect(spring.hours).toBe(8);
  });

  it.each([
    ['birthDay', { birthDay: '2026-06-01' }],
    ['birthDay', { birthDay: '2024-06-01' }],
    ['birthDay', { birthDay: '2026-02-30' }],
    ['day', { day: '2026-05-10' }],
    ['day', { day: '2026-08-10' }],
    ['from', { from: '25:00' }],
    ['feeds', { feeds: 0 }],
    ['feeds', { feeds: 2.5 }],
    ['feeds', { feeds: 40 }],
  ])('refuses an impossible %s at the field: %j', (field, part) => {
    const error = failure(() => packFor(readPackingAsk({ ...ASK, ...part }), known()));
    expect(error.field).toBe(field);
    expect(error.message).toMatch(/^(The|That) [a-z].*\.$/);
    expect(error.remedy).not.toBe('');
  });
});

describe('settings', () => {
  it('are the usual rules while nothing is set', () => {
    expect(rulesOf(readPackingSettings(null), 3)).toEqual({ ...USUAL_RULES, mostBottles: 5 });
  });

  it.each([
    ['shortLimit', { shortLimit: 0 }],
    ['mostBottles', { mostBottles: 0 }],
    ['spare.ml', { spare: { ml: -30, rule: 'last' } }],
    ['centerTimes.0.hours', { centerTimes: [{ situation: 'fridge', hours: -1, name: 'Room 2' }] }],
    ['usualHours.from', { usualHours: { from: '8', until: '17:00' } }],
  ])('refuse what cannot be, at %s', (field, part) => {
    expect(failure(() => readPackingSettings(part)).field).toBe(field);
  });
});
