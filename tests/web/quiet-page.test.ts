/** Words that no page may contain, and the only places where live amounts may be. Reads the sources. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { WORDS } from '../../src/pacing/cues/words.ts';

const WEB = fileURLToPath(new URL('../../src/web', import.meta.url));
const files = readdirSync(WEB, { recursive: true, encoding: 'utf8' }).filter((path) => /\.tsx?$/.test(path));
const codeOf = (path: string) => readFileSync(join(WEB, path), 'utf8').replaceAll(/\/\*[\s\S]*?\*\//g, '');

describe('live amounts', () => {
  it.each(['live', 'practice', 'sharing', 'join', 'drawings'])('have no way onto the pages of %s', (room) => {
    const own = files.filter((path) => path.startsWith(`${room}/`));
    expect(own.length).toBeGreaterThan(0);
    for (const path of own)
      expect([path, codeOf(path)]).not.toEqual([
        path,
        expect.stringMatching(/\.numbers\b|flowMlPerMin|intakeMl|milkMl/),
      ]);
  });

  it('stand on the builder’s page', () => {
    expect(codeOf('builder/numbers-page.tsx')).toContain('flowMlPerMin');
  });
});

describe('what the pages say', () => {
  const texts = files
    .filter((path) => /(words|texts)(-\w\w)?\.ts$/.test(path))
    .map((path) => [path, codeOf(path)] as const);

  it('is no game, no praise and no advertisement', () => {
    expect(texts.length).toBeGreaterThan(8);
    const FORBIDDEN =
      /\b(streaks?|scores?|goals?|badges?|rewards?|insights?|tips|well done|great job|good job|keep it up|racha|puntaje|puntos|metas?|logros?|consejos?|muy bien|buen trabajo)\b/i;
    for (const [path, text] of texts) expect([path, FORBIDDEN.exec(text)?.[0]]).toEqual([path, undefined]);
  });

  it('claims neither that paced feeds prevent anything nor that the sleeve watches for distress', () => {
    for (const [path, text] of texts) {
      expect([path, /overfe(ed|d)|prevents?|sobrealimenta|previene/i.exec(text)?.[0]]).toEqual([
        path,
        undefined,
      ]);
    }
    expect(WORDS.en.stressCard.notWatched).toMatch(/does not watch/);
    expect(WORDS.es.stressCard.notWatched).toMatch(/no vigila|no busca|no las/);
  });
});
