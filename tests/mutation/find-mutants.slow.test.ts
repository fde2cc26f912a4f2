import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { transform } from 'esbuild';
import { describe, expect, it } from 'vitest';
import { drawn, findMutants, mutated, watched } from './find-mutants.ts';

const changes = (source: string): string[] => findMutants('a.ts', source).map((one) => mutated(source, one));

describe('mistakes', () => {
  it.each([
    ['a + b', ['((a) - (b))']],
    ['a * -b', ['((a) / (-b))', 'a * (b)']],
    ['a && !b', ['((a) || (!b))', 'a && (b)']],
    ['x === 8', ['((x) !== (8))', 'x === (32)']],
    ['f(1, 0, 30)', ['f(1, 0, (120))']],
  ])('of %s', (source, expected) => {
    expect(changes(source)).toEqual(expected);
  });

  it('are none in texts, types, indices, keys and heads of loops', () => {
    expect(changes("const a: 3 | 4 = b; const c = 'x' + d; type E = 5; e[2]; g = { 7: h };")).toEqual([]);
    expect(changes('for (let i = 2; i < n; i += 1) k(); while (a < 3) a += 1;')).toEqual([]);
  });

  it('have names that moving the file or adding lines does not change', () => {
    const [before] = findMutants('src/a/b.ts', 'const LOWERED_DEG = 8;');
    const [after] = findMutants('src/c/b.ts', '// new\n\nconst LOWERED_DEG = 8;');
    expect(after!.id).toBe(before!.id);
    const twice = findMutants('a.ts', 'f(9); f(9);').map(({ id }) => id);
    expect(new Set(twice).size).toBe(2);
  });

  it('are drawn by seed; what is added elsewhere moves none of the others out but by taking its place', () => {
    const some = findMutants('a.ts', Array.from({ length: 40 }, (_, i) => `f(${i + 2});`).join('\n'));
    expect(drawn(some, 1, 10)).toEqual(drawn([...some].reverse(), 1, 10));
    expect(drawn(some, 1, 10)).not.toEqual(drawn(some, 2, 10));
    const kept = new Set(drawn(some.slice(1), 1, 10).map(({ id }) => id));
    expect(drawn(some, 1, 10).filter(({ id }) => !kept.has(id)).length).toBeLessThanOrEqual(1);
  });

  it('and marks leave every source of a room such that it can be read', async () => {
    const folder = fileURLToPath(new URL('../../src/pacing/', import.meta.url));
    const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((name) =>
      name.endsWith('.ts'),
    );
    let count = 0;
    for (const file of files) {
      const source = readFileSync(folder + file, 'utf8');
      const mutants = findMutants(file, source);
      count += mutants.length;
      await transform(watched(source, mutants), { loader: 'ts' });
      for (const mutant of drawn(mutants, 1, 5)) await transform(mutated(source, mutant), { loader: 'ts' });
    }
    expect(count).toBeGreaterThan(500);
  });

  it('the marks are met in order, and change no value', () => {
    const reached: string[] = [];
    const source = 'a + b * 4 > 2 && !c';
    const mutants = findMutants('a.ts', source);
    const run = new Function(
      'a',
      'b',
      'c',
      `globalThis.reached = arguments[3]; return ${watched(source, mutants)}`,
    );
    expect(run(1, 2, false, (id: string) => reached.push(id))).toBe(true);
    expect(new Set(reached)).toEqual(new Set(mutants.map(({ id }) => id)));
    Reflect.deleteProperty(globalThis, 'reached');
  });
});
