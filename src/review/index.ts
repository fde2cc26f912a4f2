/** What other rooms may import from review. */

export { boundsOf, type DaySum, daySum, feedsOfBaby, stayedMl, weekSums } from './facts/day-sums.ts';
export { type FeedCurve, feedCurve } from './facts/feed-curve.ts';
export { milkSums } from './facts/milk-sums.ts';
export { type FeedValues, feedValues } from './facts/values.ts';
export { type CompareOptions, compareGraphSvg } from './graph/compare-graph.ts';
export { type FeedGraphOptions, feedGraphSvg } from './graph/feed-graph.ts';
export { type FeedTrace, feedTrace } from './graph/feed-trace.ts';
export { type ForestOptions, forestGraphSvg } from './graph/forest-graph.ts';
export { type GroupGraphOptions, groupGraphSvg } from './graph/group-graph.ts';
export type { Theme } from './graph/look.ts';
export { feedGraphPng, feedGraphPngFromSvg, graphFontFiles } from './graph/render.ts';
export { type DayOptions, neighborDays, tellDay } from './telling/day-telling.ts';
export { drawDays } from './telling/days-drawn.ts';
export { summarySentence } from './telling/feed-words.ts';
export { STUDY_FIGURE_WORDS } from './telling/study-words.ts';
export { type TellingOptions, type ToldFeed, tellFeed } from './telling/telling.ts';
export { tellWeek } from './telling/week-telling.ts';
