import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';

/** Campaigns, mutations, emulators, browsers, terminals and whole programs: minutes together. Found by their name. */
const SLOW = 'tests/**/*.slow.test.{ts,tsx}';
/** Rooms without outer state: their tests may share a process, so that sources are loaded and compiled once. */
const SHARED = [
  'base',
  'wire',
  'sensing',
  'pacing',
  'planning',
  'calibration',
  'simulation',
  'review',
  'feed',
];

/** `npm test` runs the quick ones, `npm run test:slow` the others; without either, all of them. */
const lane = process.env.EBBLINE_TESTS;
const sharedFiles = SHARED.map((room) => `tests/${room}/**/*.test.ts`);
const ofLane = (files: string[]) =>
  lane === 'slow' ? files.map((one) => one.replace('.test.', '.slow.test.')) : files;
const notInLane = lane === 'quick' ? [SLOW] : [];

// The runner itself is idle while its workers work, so that each core may have one.
const maxWorkers = Math.min(4, availableParallelism());

export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    // Processes, not threads: the serial, database and board libraries keep things once per process.
    pool: 'forks',
    maxWorkers,
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
          include: ofLane(['tests/**/*.test.{ts,tsx}']),
          exclude: ['tests/manual/**', 'node_modules/**', ...sharedFiles, ...notInLane],
          sequence: { groupOrder: 0 },
        },
      },
      {
        extends: true,
        test: {
          name: 'shared',
          include: ofLane(sharedFiles),
          exclude: notInLane,
          isolate: false,
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
});
