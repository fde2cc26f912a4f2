/** The doors of review. */
export { type FeedTrace, feedTrace } from './feed-trace.ts';
export { summarySentence } from './feed-words.ts';
export type { Theme } from './look.ts';
export { graphFontFiles, sessionGraphPng, sessionGraphPngFromSvg } from './render.ts';
export { type SessionGraphOptions, sessionGraphSvg } from './session-graph.ts';
