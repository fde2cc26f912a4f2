/** Turns signs in the sources, one by one, and demands that the checks notice: tests that cannot fail are worth nothing. */
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import { describe, expect, it } from 'vitest';
import * as sensing from '../../src/sensing/index.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { failedChecks } from '../support/verdict.ts';

interface Mutant {
  what: string;
  file: string;
  from: string;
  to: string;
}

const MUTANTS: Mutant[] = [
  {
    what: 'Px in the moment about the tip',
    file: 'loads/balance.ts',
    from: 'stillNm - bottle.teatTipM * fxN',
    to: 'stillNm + bottle.teatTipM * fxN',
  },
  {
    what: 'Px as told',
    file: 'step.ts',
    from: 'newtonsFromGrams(weightX) - fxN',
    to: 'fxN - newtonsFromGrams(weightX)',
  },
  { what: 'xc', file: 'loads/balance.ts', from: 'az * moments.xMlM', to: '-az * moments.xMlM' },
  { what: 'roll as told', file: 'loads/reading.ts', from: 'Math.atan2(sy, sx)', to: 'Math.atan2(-sy, sx)' },
  {
    what: 'roll in the milk’s place',
    file: 'loads/reading.ts',
    from: 'ax / feltAcross',
    to: '-ax / feltAcross',
  },
  {
    what: 'the teat-in test',
    file: 'mouth/mouth.ts',
    from: 'smoothZ > threshold && ',
    to: 'smoothZ < threshold && ',
  },
  {
    what: 'turning, at each mass’s own centre',
    file: 'loads/reading.ts',
    from: 'known ? (angular + x * z)',
    to: 'known ? (-angular - x * z)',
  },
  {
    what: 'what it takes to turn bottle and milk',
    file: 'loads/balance.ts',
    from: 'momentNm - ownInertiaKgM2',
    to: 'momentNm + ownInertiaKgM2',
  },
  {
    what: 'cells later than the accelerometer',
    file: 'loads/delay.ts',
    from: '(at - whole + 2 * SLOTS)',
    to: '(at + whole + 2 * SLOTS)',
  },
  {
    what: 'the couple’s size from differences',
    file: 'mouth/mouth-noise.ts',
    from: '(longMean - shortMean)',
    to: '(shortMean - longMean)',
  },
];

const sources = fileURLToPath(new URL('../../src/sensing/', import.meta.url));

async function sensingWith(mutant: Mutant, folder: string): Promise<typeof sensing> {
  const { outputFiles } = await build({
    entryPoints: [join(sources, 'index.ts')],
    bundle: true,
    format: 'esm',
    platform: 'node',
    write: false,
    plugins: [
      {
        name: 'mutate',
        setup(building) {
          building.onLoad({ filter: /sensing\/(?:[\w-]+\/)?[\w-]+\.ts$/ }, async ({ path }) => {
            const contents = await readFile(path, 'utf8');
            if (!path.endsWith(`/${mutant.file}`)) return { contents, loader: 'ts' };
            if (contents.split(mutant.from).length !== 2)
              throw new Error(`${mutant.what}: not found once in ${mutant.file}`);
            return { contents: contents.replace(mutant.from, mutant.to), loader: 'ts' };
          });
        },
      },
    ],
  });
  const file = join(folder, `mutant-${MUTANTS.indexOf(mutant)}.mjs`);
  await writeFile(file, outputFiles[0]!.contents);
  return import(/* @vite-ignore */ pathToFileURL(file).href);
}

describe('mutation check', () => {
  it('passes the sources as they are', () => {
    expect([...failedChecks(sensing)]).toEqual([]);
  });

  it.each(MUTANTS)('goes red when the sign is turned of: $what', async (mutant) => {
    const mutated = await sensingWith(mutant, temporaryFolder());
    // One failed check is enough.
    expect(failedChecks(mutated).next().done).toBe(false);
  });
});
