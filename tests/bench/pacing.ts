/** Pacing: breast-like feeds that stay silent, detection beside the optimum, simulated feeds against the ideal rules. */
import { benchDetection } from './pacing-detection.ts';
import { benchFeeds, benchFollowing } from './pacing-feeds.ts';
import { FLOW_COLUMNS, publishedFlows } from './published-flows.ts';
import { printTable } from './table.ts';

const DRAWS = 400;
const FEEDS = 200;
const FOLLOWED_SEEDS = 10;

export function benchPacing(): void {
  printTable('Feeds drawn from published flows that stay silent', FLOW_COLUMNS, publishedFlows(DRAWS), [
    `${DRAWS} feeds of each, seeds 1 to ${DRAWS}. Goal: at least 90 %.`,
  ]);
  benchDetection();
  benchFeeds(FEEDS);
  benchFollowing(FOLLOWED_SEEDS);
}
