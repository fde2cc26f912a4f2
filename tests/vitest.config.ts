import { readdirSync, readFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { dirname, join } from 'node:path';
import { defineConfig } from 'vitest/config';

const HERE = new URL('.', import.meta.url).pathname;

/** Rooms whose tests leave nothing behind in their process: they share processes, so that sources are compiled once. */
const SHARED = new Set([
  ...['base', 'wire', 'sensing', 'pacing', 'planning', 'calibration', 'simulation', 'review', 'feed'],
  ...['store', 'server', 'web', 'paper', 'app', 'research', 'cli', 'hardware', 'links', 'firmware', 'ward'],
]);
/** In these rooms a test that replaces modules, clocks or variables has a process of its own. */
const REPLACES =
  /\bvi\.(mock|doMock|hoisted|useFakeTimers|setSystemTime|stub\w+)\b|\bprocess\.(env\.\w+ =[^=]|chdir|umask)/;
/** Of the rest: tests that collect garbage many times share a small process; in a large one each collection takes a third of a second. */
const COLLECTS = /\bsupport\/(let-go|kill-scenes)\b/;
/** `npm test` runs the quick tests, `npm run test:slow` those named so; without either, all of them are run. */
const lane = process.env.EBBLINE_TESTS;
const ENDING = lane === 'slow' ? '.slow.test.{ts,tsx}' : '.test.{ts,tsx}';
const exclude = ['node_modules/**', ...(lane === 'quick' ? ['tests/**/*.slow.test.{ts,tsx}'] : [])];
const rooms = readdirSync(HERE, { withFileTypes: true })
  .filter((one) => one.isDirectory() && one.name !== 'manual')
  .map(({ name }) => name);
const inRoom = (room: string): string => `tests/${room}/**/*${ENDING}`;
const ofShared = rooms
  .filter((room) => SHARED.has(room))
  .flatMap((room) =>
    readdirSync(`${HERE}${room}`, { recursive: true, encoding: 'utf8' }).map((name) => `${room}/${name}`),
  )
  .filter((file) => /\.test\.tsx?$/.test(file) && (lane !== 'slow' || /\.slow\.test\./.test(file)));
/** The text of a test file, and of the test file that it imports. */
const textOf = (file: string): string => {
  const text = readFileSync(HERE + file, 'utf8');
  const beside = /^import '\.\/(\S+\.test\.tsx?)';$/m.exec(text)?.[1];
  return beside ? text + readFileSync(join(HERE, dirname(file), beside), 'utf8') : text;
};
const whose = (pattern: RegExp, not: readonly string[] = []): string[] =>
  ofShared
    .filter((file) => pattern.test(textOf(file)))
    .map((file) => `tests/${file}`)
    .filter((file) => !not.includes(file));
const apart = whose(REPLACES);
const collecting = whose(COLLECTS, apart);

export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    // Processes, not threads: the serial, database and board libraries hold state once for each process.
    pool: 'forks',
    // The runner itself is idle while its workers work, so that each core may have one.
    maxWorkers: Math.min(4, availableParallelism()),
    // A limit only for a hang: on a busy machine any test may take many times as long as on an idle one.
    testTimeout: 600_000,
    hookTimeout: 600_000,
    expect: { poll: { timeout: 240_000 } },
    // The time zone of a test must not depend on the machine.
    env: { TZ: 'UTC' },
    projects: [
      {
        extends: true,
        test: {
          name: 'apart',
          include: [`tests/*${ENDING}`, ...rooms.filter((room) => !SHARED.has(room)).map(inRoom), ...apart],
          exclude,
          sequence: { groupOrder: 0 },
        },
      },
      {
        extends: true,
        test: {
          name: 'collecting',
          include: collecting,
          exclude,
          isolate: false,
          sequence: { groupOrder: 0 },
        },
      },
      {
        extends: true,
        test: {
          name: 'shared',
          include: rooms.filter((room) => SHARED.has(room)).map(inRoom),
          exclude: [...exclude, ...apart, ...collecting],
          isolate: false,
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
});
