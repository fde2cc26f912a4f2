/** Words and numbers of the packing pages. */
import { describe, expect, it } from 'vitest';
import {
  chanceText,
  counted,
  localMinute,
  milkClockText,
  rangeText,
  spanText,
} from '../../src/web/packing/format.ts';
import { PACKING_WORDS } from '../../src/web/packing/words.ts';

const shape = (value: unknown): unknown =>
  value !== null && typeof value === 'object'
    ? Object.fromEntries(Object.entries(value).map(([key, one]) => [key, shape(one)]))
    : typeof value;

/** All that is said, functions with something in them. */
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
      milkClockText({ ...clock, usedBefore }, nowMs, PACKING_WORDS[language], language);
    expect(told(0.75, 0, 'en')).toMatch(
      /passes .*: 4 days in the fridge, 75% of that used up before \(CDC\)\.$/,
    );
    expect(told(0.75, 86_400_000, 'es')).toMatch(
      / pasó .*: 4 días en la nevera, el 75 % ya gastado antes \(CDC\)\.$/,
    );
    expect(told(0, 86_400_000, 'en')).toMatch(
      / passed .*: 4 days after expressing, in the fridge \(CDC\)\.$/,
    );
  });

  it('are the local minute in a field for date and time', () => {
    expect(localMinute(Date.parse('2026-05-12T07:05:40Z'))).toBe('2026-05-12T07:05');
  });
});
