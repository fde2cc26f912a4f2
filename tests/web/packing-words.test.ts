/** Words and numbers of the packing pages. */
import { describe, expect, it } from 'vitest';
import { ASSUMPTIONS } from '../../src/planning/bag/assumptions.ts';
import { EXPRESSED_TIMES, FORMULA_TIMES } from '../../src/planning/milk/published-times.ts';
import {
  chanceAxisEnd,
  chanceText,
  counted,
  instantOfWall,
  milkClockText,
  rangeText,
  spanText,
  wallMinute,
  whenText,
} from '../../src/web/packing/format.ts';
import { SOURCES_ES, sourceText } from '../../src/web/packing/sources-es.ts';
import { PACKING_WORDS } from '../../src/web/packing/words.ts';

const shape = (value: unknown): unknown =>
  value !== null && typeof value === 'object'
    ? Object.fromEntries(Object.entries(value).map(([key, one]) => [key, shape(one)]))
    : typeof value;

/** All texts of a table; texts made by functions are left out. */
function allTexts(value: unknown): string[] {
  if (typeof value === 'string') return [value];
  return value !== null && typeof value === 'object' ? Object.values(value).flatMap(allTexts) : [];
}

describe('the words', () => {
  it('are the same in both languages', () => {
    expect(shape(PACKING_WORDS.es)).toEqual(shape(PACKING_WORDS.en));
  });

  it('never say that milk is safe, urge nobody, and claim nothing about eating too much', () => {
    for (const words of Object.values(PACKING_WORDS)) {
      const said = allTexts(words)
        .join('\n')
        .replace(/does not say that milk is safe|no dice que la leche sea segura/, '');
      expect(said).not.toMatch(/\bsafe\b|segur|fresh|fresc|overfe|sobrealiment|finish|termine/i);
    }
  });
});

describe('numbers for people', () => {
  it('are ranges in quarters of an ounce and steps of 5 mL, the chosen unit first', () => {
    expect(rangeText(71, 104, 'fl-oz')).toBe('2½–3½ fl oz (70–105 mL)');
    expect(rangeText(71, 104, 'ml')).toBe('70–105 mL (2½–3½ fl oz)');
    expect(rangeText(90, 90, 'ml')).toBe('90 mL (3 fl oz)');
  });

  it('are chances in days of a hundred, spans in hours or days, sizes counted', () => {
    expect(chanceText(0.049, PACKING_WORDS.en)).toBe('5 of 100 days');
    expect(chanceText(0.001, PACKING_WORDS.es)).toBe('menos de 1 de 100 días');
    const clock = (hours: number) => ({ hours }) as never;
    expect([1, 24, 96].map((hours) => spanText(clock(hours), PACKING_WORDS.en))).toEqual([
      '1 hour',
      '24 hours',
      '4 days',
    ]);
    expect(counted([74, 74, 30])).toEqual([
      { ml: 74, count: 2 },
      { ml: 30, count: 1 },
    ]);
  });

  it('tell a time as passed or to come, and what was used of it before a move, in both languages', () => {
    const clock = {
      situation: 'fridge' as const,
      startedAtMs: 0,
      passesAtMs: 86_400_000,
      hours: 96,
      usedBefore: 0.75,
      from: '',
      source: 'CDC',
      local: false,
    };
    const told = (usedBefore: number, nowMs: number, language: 'en' | 'es') =>
      milkClockText({ ...clock, usedBefore }, PACKING_WORDS[language], { language, zone: 'UTC', nowMs });
    expect(told(0.75, 0, 'en')).toMatch(
      /passes .*: 4 days in the fridge, 75% of that used up before \(CDC\)\.$/,
    );
    expect(told(0.75, 86_400_000, 'es')).toMatch(
      / pasó .*: 4 días en el refrigerador, el 75 % ya gastado antes \(CDC\)\.$/,
    );
    expect(told(0, 86_400_000, 'en')).toMatch(
      / passed .*: 4 days after expressing, in the fridge \(CDC\)\.$/,
    );
  });

  it('are the family’s minute in a field for date and time, and back, wherever the page is read', () => {
    const atMs = Date.parse('2026-05-12T07:05:40Z');
    // Tokyo is nine hours ahead of UTC all year, Phoenix seven behind (IANA time zone database).
    expect(wallMinute(atMs, 'Asia/Tokyo')).toBe('2026-05-12T16:05');
    expect(instantOfWall('2026-05-12T16:05', 'Asia/Tokyo')).toBe(Date.parse('2026-05-12T07:05:00Z'));
    expect(instantOfWall('2026-05-12T00:05:30', 'America/Phoenix')).toBe(Date.parse('2026-05-12T07:05:00Z'));
    expect(instantOfWall('', 'Asia/Tokyo')).toBeNull();
  });

  it('are days and years of the family’s zone', () => {
    const newYear = Date.parse('2027-01-01T02:00:00Z');
    const reading = {
      language: 'en',
      zone: 'America/Phoenix',
      nowMs: Date.parse('2026-06-01T00:00:00Z'),
    } as const;
    expect(whenText(newYear, reading)).toMatch(/^Thu, Dec 31, 7:00\sPM$/);
    expect(whenText(newYear, { ...reading, zone: 'UTC' })).toMatch(/^Fri, Jan 1, 2027, 2:00\sAM$/);
  });
});

describe('the line of what may run short', () => {
  it('ends at 30 of 100 days, but never before a way that has a name', () => {
    expect(chanceAxisEnd([0.02, 0.05], [0.01, 0.9])).toBe(0.3);
    expect(chanceAxisEnd([0.02, 0.05], [0.01])).toBe(0.1);
    expect(chanceAxisEnd([0.61, 0.69, 0.76], [0.61])).toBe(0.76);
  });
});

describe('a count of one', () => {
  it('is worded in the singular', () => {
    const one = { emptied: 1, refused: 1, poured: 1 };
    expect(PACKING_WORDS.en.seen(one)).toMatch(
      /1 was refused, and says .* 1 flowed faster .* counts for less/,
    );
    expect(PACKING_WORDS.es.seen(one)).toMatch(
      /1 volvió vacío.* 1 se rechazó y no dice .* 1 salió más rápido .* cuenta menos/,
    );
  });
});

describe('sources', () => {
  it('are told in Spanish too, each of them, by the same authorities first; a rule of the place in its own words', () => {
    const used = [...EXPRESSED_TIMES, ...FORMULA_TIMES, ...ASSUMPTIONS].map(({ source }) => source);
    expect(Object.keys(SOURCES_ES).sort()).toEqual([...new Set(used)].sort());
    for (const [en, es] of Object.entries(SOURCES_ES)) {
      const bodies = (text: string) => text.match(/CDC|NHS|ABM|WHO|OMS|Kent|Ventura|Yao|Pediatr/g) ?? [];
      expect(bodies(es).map((one) => one.replace('OMS', 'WHO'))).toEqual(bodies(en));
      expect(es).not.toMatch(/\b(the|and|of|with|source|beside|hours|memory)\b/);
    }
    expect(sourceText('Regla de la guardería', 'es')).toBe('Regla de la guardería');
  });
});
