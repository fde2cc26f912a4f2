/** What the server refuses is said in the page's language. */
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { refusalText } from '../../src/web/parts/refusals.ts';
import { TEXTS } from '../../src/web/words/texts.ts';

const SOURCE = fileURLToPath(new URL('../../src', import.meta.url));
/** Rooms whose refusals can answer a request. */
const ROOMS = ['app', 'base', 'pacing', 'paper', 'planning', 'server', 'store'];
/** Files that only a command, or the start of the program, runs through: what they refuse is read in a terminal. */
const IN_A_TERMINAL =
  /^(paper\/labels|app\/(serve-health|ward\/arranging|calibration|relay|work|sleeve|study|kept\/(check-store|\w+-asked)|out-file|packing\/\w+-asked|review\/(feed-again|told-text)|teats\/measured-nipple)|server\/(home-network|server|ward\/(board-door|board-server|own-certificate|sign-in-secret))|store\/(check|move|portable|captures\/recording-lock|database\/database|postgres\/(address|grants|postgres-database)|data-folder|mixing))/;
/** Exceptions: the page shows these too. */
const ON_THE_PAGE = /^(app\/sleeve\/no-sleeve|store\/portable\/forget)/;

/** Said when the program starts, in its terminal. */
const AT_THE_START = 'page-not-built';

const codes = ROOMS.flatMap((room) =>
  readdirSync(`${SOURCE}/${room}`, { recursive: true, encoding: 'utf8' }).map((name) => `${room}/${name}`),
)
  .filter((file) => file.endsWith('.ts') && (!IN_A_TERMINAL.test(file) || ON_THE_PAGE.test(file)))
  .flatMap((file) => [
    ...readFileSync(`${SOURCE}/${file}`, 'utf8').matchAll(
      /(?:\b(?:refuse|refused|fail|error)|new (?:Plain|Field)Error)\(\s*'([\w-]+)'|\bcode: '([a-z-]+)'/g,
    ),
  ])
  .map(([, thrown, named]) => thrown ?? named!);

describe('a refusal', () => {
  it('is said in Spanish whatever its code', () => {
    expect(new Set(codes).size).toBeGreaterThan(80);
    const asIs = (code: string): boolean =>
      refusalText({ code, message: 'English.', remedy: 'Do.' }, 'es', TEXTS.es)[0] === 'English.';
    expect([...new Set(codes)].filter(asIs)).toEqual([AT_THE_START]);
  });

  it('keeps in English the server’s own words, which name what is wrong', () => {
    const refused = {
      code: 'date-impossible',
      message: 'There is no date "2026-02-30".',
      remedy: 'Write it.',
    };
    expect(refusalText(refused, 'en', TEXTS.en)).toEqual([refused.message, refused.remedy]);
  });

  it('that nobody sent is that Ebbline could not be reached', () => {
    for (const language of ['en', 'es'] as const)
      expect(refusalText({ code: 'unreached', message: '', remedy: '' }, language, TEXTS[language])).toEqual([
        TEXTS[language].refused.unreached,
        TEXTS[language].refused.unreachedRemedy,
      ]);
  });
});
