import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
    exclude: ['tests/manual/**', 'node_modules/**'],
    // Processes, not threads: the serial, database and board libraries keep things once per process.
    pool: 'forks',
    // The runner itself is idle while its workers work, so that each core may have one.
    maxWorkers: Math.min(4, availableParallelism()),
    testTimeout: 30_000,
    hookTimeout: 30_000,
    // The time zone of a test must not depend on the machine.
    env: { TZ: 'UTC' },
  },
});
