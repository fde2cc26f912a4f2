/** The helper process started from source, and how a graph is drawn in its tests. */

export const PROGRAM_FROM_SOURCE = {
  node: process.execPath,
  switches: ['--import', 'tsx'],
  file: new URL('../../src/cli/main.ts', import.meta.url).pathname,
};

export const GRAPH_LOOK = {
  widthPx: 720,
  volumeUnit: 'ml',
  theme: 'light',
  language: 'en',
  hasHeading: true,
  hasNotes: true,
} as const;
