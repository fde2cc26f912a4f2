/** The printed sheets as PDF: one page each, tagged, whatever they hold. */
import { describe, expect, it } from 'vitest';
import { daySheet } from '../../src/paper/sheets/day-sheet.ts';
import { daySheetPdf } from '../../src/paper/sheets/day-sheet-pdf.ts';
import { feedingPlan } from '../../src/paper/sheets/feeding-plan.ts';
import { feedingPlanPdf } from '../../src/paper/sheets/feeding-plan-pdf.ts';
import { PRINTED_LANGUAGES } from '../../src/paper/sheets/words.ts';

const LIGHT = {
  'tilt-down': [1.2, 0.4],
  burp: [0.5, 0.5, 0.5, 2.5],
  'switch-side': [1.5, 0.5, 0.5, 1.5],
  'offer-stop': [1],
  'cannot-tell': [0.6, 5.4],
};
const person = (fill: string) => ({ name: fill.repeat(40), phone: '5'.repeat(14) });

/** Every field filled to its limit. */
const fullest = (language: 'en' | 'es') => ({
  language,
  babyName: 'Wilhelmina Margarethe of the Long Names',
  day: '2026-09-30',
  milkKind: 'mixed',
  parent: person('m'),
  backup: person('w'),
  usual: { lowMl: 70, highMl: 125 },
  usualMinutes: { low: 12, high: 34 },
  bottles: {
    feedsMl: [120, 105, 90, 75, 60],
    topUpsMl: [30, 45, 60],
    spare: { ml: 45, rule: 'kept-apart' },
  },
  leftoverRule: 'word '.repeat(31),
  notes: ['note '.repeat(23), 'note '.repeat(23), 'note '.repeat(23)],
});

const facts = (pdf: Buffer) => {
  const text = pdf.toString('latin1');
  return {
    pages: text.match(/\/Type \/Page\b(?!s)/g)?.length,
    tagged: /\/MarkInfo|\/Marked true/.test(text) && text.includes('/StructTreeRoot'),
    language: text.match(/\/Lang \(([^)]*)\)/)?.[1],
    title: text.includes('/DisplayDocTitle true'),
  };
};

describe('printed sheets', () => {
  it.each(PRINTED_LANGUAGES)(
    'are one tagged page each, in %s, even when every field is full',
    async (language) => {
      const expected = { pages: 1, tagged: true, language, title: true };
      expect(facts(await feedingPlanPdf(feedingPlan(fullest(language), LIGHT)))).toEqual(expected);
      const feed = {
        time: '10:10',
        milkKind: 'mixed',
        offeredMl: 120,
        leftOverMl: 2,
        takenMl: 118,
        note: 'note '.repeat(60),
        minutes: 20,
        initials: 'W'.repeat(20),
      };
      const sheet = daySheet({ language, babyName: 'W'.repeat(40), lines: 12, feeds: Array(16).fill(feed) });
      expect(facts(await daySheetPdf(sheet))).toEqual(expected);
    },
  );

  it('say which letter the type lacks, instead of printing a box', async () => {
    const plan = feedingPlan({ ...fullest('en'), babyName: '小明' }, LIGHT);
    await expect(feedingPlanPdf(plan)).rejects.toThrow('no “小”');
  });
});
