import { readdirSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';

const HERE = new URL('.', import.meta.url).pathname;

/** Rooms whose tests leave nothing behind in their process: they share one, so that sources are loaded and compiled once. */
const SHARED = new Set([
  ...['base', 'wire', 'sensing', 'pacing', 'planning', 'calibration', 'simulation', 'review', 'feed'],
  ...['store', 'server', 'web', 'paper', 'app'],
]);
/** Of those rooms: whoever puts other modules, clocks or variables in the place of the real ones. */
const APART = [
  'tests/sensing/consistency.test.ts',
  'tests/app/review-service.test.ts',
  'tests/app/sleeves.test.ts',
  'tests/server/live-stream.test.ts',
];

/** `npm test` runs the quick tests, `npm run test:slow` those named so; without either, all of them are run. */
const lane = process.env.EBBLINE_TESTS;
const ENDING = lane === 'slow' ? '.slow.test.{ts,tsx}' : '.test.{ts,tsx}';
const exclude = ['node_modules/**', ...(lane === 'quick' ? ['tests/**/*.slow.test.{ts,tsx}'] : [])];
const rooms = readdirSync(HERE, { withFileTypes: true })
  .filter((one) => one.isDirectory() && one.name !== 'manual')
  .map(({ name }) => name);
const inRoom = (room: string): string => `tests/${room}/**/*${ENDING}`;

export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    // Processes, not threads: the serial, database and board libraries keep things once per process.
    pool: 'forks',
    // The runner itself is idle while its workers work, so that each core may have one.
    maxWorkers: Math.min(4, availableParallelism()),
    // Only so that a hang ends some day: on a busy machine any test may take many times as long as on an idle one.
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
          include: [
            `tests/*${ENDING}`,
            ...rooms.filter((room) => !SHARED.has(room)).map(inRoom),
            ...(lane === 'slow' ? [] : APART),
          ],
          exclude,
          sequence: { groupOrder: 0 },
        },
      },
      {
        extends: true,
        test: {
          name: 'shared',
          include: rooms.filter((room) => SHARED.has(room)).map(inRoom),
          exclude: [...exclude, ...APART],
          isolate: false,
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
});
