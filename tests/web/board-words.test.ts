/** The board's words do not urge anybody, and name each stop in both languages. */
import { describe, expect, it } from 'vitest';
import { STOPS } from '../../src/ward/binding/bind.ts';
import { NEEDS } from '../../src/ward/board/needs.ts';
import { BOARD_WORDS } from '../../src/web/board/board-words.ts';
import { cotNote } from '../../src/web/board/cot-card.tsx';
import { WARD_WORDS } from '../../src/web/board/ward-words.ts';
import { boardCot } from '../support/board-cots.ts';

describe('a cot whose calibration is in doubt', () => {
  it('has a quiet line about it, in the words of the live page', () => {
    const cot = { ...boardCot(), calibration: 'zero-far' as const };
    expect(cotNote(cot, { language: 'en' })).toMatch(/zero has moved.*calibrate again before/);
    expect(cotNote(cot, { language: 'es' })).toMatch(/El cero de la funda/);
    expect(cotNote(boardCot(), { language: 'en' })).toBeNull();
  });
});

describe.each(['en', 'es'] as const)('words of the board (%s)', (language) => {
  it('say each need and each stop', () => {
    for (const need of NEEDS) expect(BOARD_WORDS[language].needs[need]).not.toBe('');
    for (const stop of STOPS) expect(WARD_WORDS[language].stops[stop]).toMatch(/\.$/);
  });

  it('urge nobody to finish, name no amount and compare no babies', () => {
    const texts = JSON.stringify([BOARD_WORDS[language], WARD_WORDS[language]]);
    expect(texts).not.toMatch(/\b(finish|hurry|best|worst|behind|rank|rápido|mejor|peor|acabar|terminar)\b/i);
    expect(texts).not.toMatch(/\d ?(mL|fl oz|%)/);
  });
});
