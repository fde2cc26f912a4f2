/** Content of an export or import in words for a terminal. */
import { counted } from '../../base/counted.ts';

/** Up to this many are listed one by one. */
const MOST_NAMED = 20;
export const atMostNamed = (lines: readonly string[]): string[] =>
  lines.length > MOST_NAMED
    ? [...lines.slice(0, MOST_NAMED), `… and ${lines.length - MOST_NAMED} more.`]
    : [...lines];

export function exchangedText(result: {
  feeds: number;
  handFeeds: number;
  milkEvents: number;
  captures: number;
}): string {
  const captures = result.captures > 0 ? ` with ${counted(result.captures, 'capture')}` : '';
  return `${counted(result.feeds, 'feed')}${captures}, ${counted(result.handFeeds, 'feed')} written in by hand, ${counted(result.milkEvents, 'entry', 'entries')} of the milk ledger`;
}
