/** Tries mistakes: finds which tests run the changed place, and whether one of them fails. */
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';
import { createVitest, type TestSpecification, type Vitest } from 'vitest/node';
import { type Mutant, mutated, watched } from './find-mutants.ts';

export type Verdict = 'noticed' | 'not noticed' | 'not reached';

/** A runner whose sources can be changed; its tests are those of one room. */
async function runner(
  tests: readonly string[],
  change: (file: string, source: string) => string,
): Promise<Vitest> {
  const root = process.cwd();
  return createVitest(
    'test',
    {
      config: false,
      root,
      include: tests.map((place) => (place.endsWith('.ts') ? place : `${place}/**/*.test.ts`)),
      exclude: ['**/*.slow.test.ts'],
      setupFiles: ['tests/mutation/note-reached.ts'],
      pool: 'forks',
      maxWorkers: 2,
      testTimeout: 600_000,
      hookTimeout: 600_000,
      env: { TZ: 'UTC' },
      watch: false,
      // Tests are meant to fail here, so the runner prints nothing; the verdict is reported instead.
      reporters: [{}],
    },
    {
      plugins: [
        {
          name: 'mistakes',
          enforce: 'pre',
          transform: (source, id) => change(relative(root, id.split('?')[0]!), source),
        },
      ],
    },
  );
}

export interface TryOptions {
  mutants: readonly Mutant[];
  /** Folders and files of the tests. */
  tests: readonly string[];
  /** Is asked before each: false ends it. */
  goesOn: () => boolean;
  onVerdict: (mutant: Mutant, verdict: Verdict) => void;
}

/** @returns test files that fail without any mistake; they are left out */
export async function tryMutants({ mutants, tests, goesOn, onVerdict }: TryOptions): Promise<string[]> {
  let now: Mutant | null = null;
  const change = (file: string, source: string): string => {
    if (now) return now.file === file ? mutated(source, now) : source;
    const here = mutants.filter((mutant) => mutant.file === file);
    return here.length > 0 ? watched(source, here) : source;
  };
  const folder = mkdtempSync(join(tmpdir(), 'ebbline-reached-'));
  process.env.EBBLINE_REACHED = folder;
  const vitest = await runner(tests, change);
  try {
    const all = await vitest.globTestSpecifications();
    const plain = await vitest.runTestSpecifications(all, true);
    const red = plain.testModules.filter((one) => !one.ok()).map(({ moduleId }) => moduleId);
    const tookMs = new Map(plain.testModules.map((one) => [one.moduleId, one.diagnostic().duration]));
    const reachedBy = readReached(folder);
    delete process.env.EBBLINE_REACHED;
    for (const { file } of mutants) vitest.invalidateFile(join(process.cwd(), file));
    for (const mutant of mutants) {
      if (!goesOn()) break;
      // The quickest first, since the first that goes red is enough.
      const specs = all
        .filter(({ moduleId }) => !red.includes(moduleId) && reachedBy.get(moduleId)?.has(mutant.id))
        .sort((a, b) => tookMs.get(a.moduleId)! - tookMs.get(b.moduleId)!);
      now = mutant;
      onVerdict(mutant, specs.length === 0 ? 'not reached' : await verdictOf(vitest, specs, mutant));
    }
    return red.map((file) => relative(process.cwd(), file));
  } finally {
    rmSync(folder, { recursive: true, force: true });
    await vitest.close();
  }
}

async function verdictOf(vitest: Vitest, specs: TestSpecification[], { file }: Mutant): Promise<Verdict> {
  const path = join(process.cwd(), file);
  vitest.invalidateFile(path);
  vitest.config.bail = 1;
  const { testModules, unhandledErrors } = await vitest.runTestSpecifications(specs);
  vitest.invalidateFile(path);
  return unhandledErrors.length > 0 || testModules.some((one) => !one.ok()) ? 'noticed' : 'not noticed';
}

function readReached(folder: string): Map<string, Set<string>> {
  return new Map(
    readdirSync(folder).map((name) => {
      const { file, ids } = JSON.parse(readFileSync(join(folder, name), 'utf8')) as {
        file: string;
        ids: string[];
      };
      return [file, new Set(ids)];
    }),
  );
}
