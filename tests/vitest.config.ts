import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
    exclude: ['tests/manual/**', 'node_modules/**'],
    testTimeout: 30_000,
    // The time zone of a test must not depend on the machine.
    env: { TZ: 'UTC' },
  },
});
