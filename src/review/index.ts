/** The doors of review. */
export { type CompareOptions, compareGraphSvg } from './compare-graph.ts';
export { type DayFileOptions, dayFile } from './day-file.ts';
export { boundsOf, type DaySum, daySum, feedsOfBaby, weekSums } from './day-sums.ts';
export {
  type DayOptions,
  neighborDays,
  type ToldDay,
  type ToldWeek,
  tellDay,
  tellWeek,
} from './day-telling.ts';
export { type FileOptions, feedFile } from './feed-file.ts';
export { feedPdf } from './feed-pdf.ts';
export { type FeedTrace, feedTrace } from './feed-trace.ts';
export { summarySentence } from './feed-words.ts';
export type { Theme } from './look.ts';
export { milkSums } from './milk-sums.ts';
export { graphFontFiles, sessionGraphPng, sessionGraphPngFromSvg } from './render.ts';
export { type SessionGraphOptions, sessionGraphSvg } from './session-graph.ts';
export { type TellingOptions, type ToldFeed, tellFeed } from './telling.ts';
export { type FeedValues, feedValues } from './values.ts';
