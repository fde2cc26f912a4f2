import { describe, expect, it } from 'vitest';
import { COLUMN_SHARES, daySheet } from '../../../src/paper/sheets/day-sheet.ts';
import { daySheetPage } from '../../../src/paper/sheets/page.ts';
import { PRINTED_LANGUAGES } from '../../../src/paper/sheets/words.ts';

const FED = {
  time: '9:10',
  milkKind: 'expressed',
  offeredMl: 74,
  leftBottleMl: 66,
  minutes: 13.6,
  initials: 'R.',
};

describe('the day sheet', () => {
  it.each(PRINTED_LANGUAGES)(
    'has a column for each thing to write, in %s, and room for a signature',
    (language) => {
      const sheet = daySheet({ language, babyName: 'Wren' });
      expect(sheet.columns).toHaveLength(COLUMN_SHARES.length);
      expect(COLUMN_SHARES.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 9);
      expect(sheet.rows).toHaveLength(8);
      expect(sheet.rows.flat().join('')).toBe('');
      expect(sheet.signature).not.toBe('');
      expect(sheet.notes.join(' ')).toMatch(/with or without the sleeve|con la funda o sin ella/);
      expect(sheet.notes.join(' ')).toContain('5 mL');
    },
  );

  it('carries what is known already, and leaves the rest to the pen', () => {
    const { rows, day } = daySheet({ language: 'en', babyName: 'Wren', day: '2026-05-12', feeds: [FED] });
    expect(day).toBe('May 12, 2026');
    expect(rows[0]).toEqual(['9:10', 'B', '2½ fl oz (75 mL)', '2¼ fl oz (65 mL)', '14', 'sleeve', 'R.']);
    expect(rows[1]!.every((cell) => cell === '')).toBe(true);
  });

  it('has a line for each known feed, however few lines were asked for', () => {
    const feeds = Array.from({ length: 6 }, () => ({ ...FED, offeredMl: null, milkKind: null }));
    const { rows } = daySheet({ language: 'en', babyName: 'Wren', lines: 4, feeds });
    expect(rows).toHaveLength(6);
    expect(rows[5]!.slice(1, 3)).toEqual(['', '']);
  });

  it.each([
    ['negative milk', { feeds: [{ ...FED, leftBottleMl: -3 }] }, 'feeds.0.leftBottleMl'],
    ['no such day', { day: '2026-13-01' }, 'day'],
    ['an unknown language', { language: 'xx' }, 'language'],
  ])('refuses %s and names the field', (_what, part, field) => {
    expect(() => daySheet({ language: 'en', babyName: 'Wren', ...part })).toThrow(field);
  });

  it('is a page with a real table', () => {
    const html = daySheetPage(daySheet({ language: 'en', babyName: '<i>', feeds: [FED] }));
    expect(html).not.toContain('<i>');
    expect(html.match(/<th scope="col">/g)).toHaveLength(7);
    expect(html.match(/<tr>/g)).toHaveLength(9);
  });
});
