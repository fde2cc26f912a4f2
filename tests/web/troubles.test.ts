/** Trouble of disk and settings, in both languages. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { noticeLine } from '../../src/web/live/troubles.ts';

const ENGLISH = 'The disk that holds the data is full. Free some space on it.';

describe('trouble', () => {
  it('is said as the program says it in English, and by its code in Spanish', () => {
    const view = { notice: ENGLISH, noticeCodes: ['store-full'] };
    expect(noticeLine(view, 'en')).toEqual({ text: ENGLISH, language: 'en' });
    expect(noticeLine(view, 'es')).toEqual({
      text: expect.stringMatching(/disco está lleno.*espacio/),
      language: 'es',
    });
    expect(noticeLine({ notice: null }, 'es')).toBeNull();
  });

  it('keeps its English line, marked as such, where a code has no words, alone or among others', () => {
    for (const noticeCodes of [[], ['no-such-code'], ['store-full', 'no-such-code']])
      expect(noticeLine({ notice: ENGLISH, noticeCodes }, 'es')).toEqual({ text: ENGLISH, language: 'en' });
  });

  it('says all that is the matter', () => {
    const view = { notice: 'Two lines.', noticeCodes: ['store-away', 'raw-lost'] };
    expect(noticeLine(view, 'es')?.text).toMatch(/no responde.*faltan mediciones/);
  });

  it('has Spanish words for every fault of disk and database that the store names', () => {
    const source = readFileSync(new URL('../../src/store/faults.ts', import.meta.url), 'utf8');
    const codes = [...source.matchAll(/code: '([\w-]+)'/g)].map(([, code]) => code!);
    expect(codes.length).toBeGreaterThan(8);
    for (const code of codes)
      expect([code, noticeLine({ notice: ENGLISH, noticeCodes: [code] }, 'es')?.language]).toEqual([
        code,
        'es',
      ]);
  });
});
