import { describe, expect, it } from 'vitest';
import { COLUMN_SHARES, daySheet } from '../../../src/paper/sheets/day-sheet.ts';
import { daySheetPage } from '../../../src/paper/sheets/page.ts';
import { PRINTED_LANGUAGES } from '../../../src/paper/sheets/words.ts';

const FED = {
  time: '9:10',
  milkKind: 'expressed',
  offeredMl: 74,
  leftOverMl: 8,
  takenMl: 66,
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
    expect(rows[0]).toEqual([
      '9:10',
      'B',
      '2½ fl oz (75 mL)',
      '¼ fl oz (10 mL)',
      '2¼ fl oz (65 mL)',
      '14',
      'sleeve',
      'R.',
    ]);
    expect(rows[1]!.every((cell) => cell === '')).toBe(true);
  });

  it('has a line for each known feed, however few lines were asked for', () => {
    const feeds = Array.from({ length: 6 }, () => ({ ...FED, offeredMl: null, milkKind: null }));
    const { rows } = daySheet({ language: 'en', babyName: 'Wren', lines: 4, feeds });
    expect(rows).toHaveLength(6);
    expect(rows[5]!.slice(1, 3)).toEqual(['', '']);
  });

  it('never prints more taken or left over than was offered, in either unit', () => {
    const printed = (text: string): number[] =>
      [...text.matchAll(/(\d*)([¼½¾]?) fl oz \((\d+) mL\)/g)].flatMap(([, whole, mark, five]) => [
        Number(whole || 0) + ({ '¼': 0.25, '½': 0.5, '¾': 0.75 }[mark!] ?? 0),
        Number(five),
      ]);
    for (let offeredMl = 20; offeredMl < 200; offeredMl += 0.7) {
      // The printed parts of a poured bottle add up, in both units.
      const part = offeredMl * 0.8;
      const [, , whole, rest, taken] = daySheet({
        language: 'en',
        babyName: 'Wren',
        feeds: [{ ...FED, offeredMl, takenMl: part, leftOverMl: offeredMl - part }],
      }).rows[0]!.map(printed);
      expect(whole!.map((amount, i) => amount - taken![i]! - rest![i]!)).toEqual([0, 0]);
      const feeds = [-5, 0, 4, 9].map((over) => ({
        ...FED,
        offeredMl,
        takenMl: offeredMl + over,
        leftOverMl: offeredMl,
      }));
      for (const [, , offered, ...others] of daySheet({ language: 'en', babyName: 'Wren', feeds }).rows.slice(
        0,
        4,
      ))
        for (const cell of others.slice(0, 2))
          for (const [i, amount] of printed(cell).entries())
            expect(amount).toBeLessThanOrEqual(printed(offered!)[i]!);
    }
  });

  it('leaves to the pen what was offered, where far more was taken than somebody said', () => {
    const [row] = daySheet({ language: 'en', babyName: 'Wren', feeds: [{ ...FED, takenMl: 100 }] }).rows;
    expect(row!.slice(2, 5)).toEqual(['', '', '3½ fl oz (100 mL)']);
  });

  it('has feeds without a sleeve too: by hand, at the breast, refused; and says how many did not fit', () => {
    const plain = { ...FED, isByHand: true, offeredMl: null, leftOverMl: null, takenMl: null, minutes: null };
    const feeds = [
      { ...plain, kind: 'breast' as const, milkKind: null, note: 'sleepy' },
      { ...plain, kind: 'refused' as const, offeredMl: 60, leftOverMl: 60, takenMl: 0 },
    ];
    const { rows } = daySheet({ language: 'en', babyName: 'Wren', feeds });
    expect(rows[0]).toEqual(['9:10', '', '', '', '', '', 'at the breast · sleepy', 'R.']);
    expect(rows[1]).toEqual([
      '9:10',
      'B',
      '2 fl oz (60 mL)',
      '2 fl oz (60 mL)',
      '0 fl oz (0 mL)',
      '',
      'hardly taken',
      'R.',
    ]);
    const many = daySheet({
      language: 'es',
      babyName: 'Wren',
      feeds: Array.from({ length: 16 }, () => feeds[0]!),
    });
    expect([many.rows.length, many.notes[0]]).toEqual([
      14,
      '2 tomas anteriores de este día no cupieron aquí.',
    ]);
  });

  it.each([
    ['negative milk', { feeds: [{ ...FED, takenMl: -3 }] }, 'feeds.0.takenMl'],
    ['no such day', { day: '2026-13-01' }, 'day'],
    ['an unknown language', { language: 'xx' }, 'language'],
  ])('refuses %s and names the field', (_what, part, field) => {
    expect(() => daySheet({ language: 'en', babyName: 'Wren', ...part })).toThrow(field);
  });

  it('is a page with a real table', () => {
    const html = daySheetPage(daySheet({ language: 'en', babyName: '<i>', feeds: [FED] }));
    expect(html).not.toContain('<i>');
    expect(html.match(/<th scope="col">/g)).toHaveLength(8);
    expect(html.match(/<tr>/g)).toHaveLength(9);
  });
});
