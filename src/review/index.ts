/** The doors of review. */
export { type FileOptions, feedFile } from './feed-file.ts';
export { feedPdf } from './feed-pdf.ts';
export { type FeedTrace, feedTrace } from './feed-trace.ts';
export { summarySentence } from './feed-words.ts';
export type { Theme } from './look.ts';
export { graphFontFiles, sessionGraphPng, sessionGraphPngFromSvg } from './render.ts';
export { type SessionGraphOptions, sessionGraphSvg } from './session-graph.ts';
export { type TellingOptions, type ToldFeed, tellFeed } from './telling.ts';
export { type FeedValues, feedValues } from './values.ts';
