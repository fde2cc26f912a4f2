/** Pacing: breast-like feeds that stay silent, detection beside the optimum, simulated feeds against the ideal rules, a feed that is followed. */
import { benchDetection } from './pacing-detection.ts';
import { benchFeeds } from './pacing-feeds.ts';
import { benchFollowing } from './pacing-following.ts';
import { benchMargin } from './pacing-margin.ts';
import { FLOW_COLUMNS, publishedFlows } from './published-flows.ts';
import { printTable } from './table.ts';

/** Simulated feeds first: they are what changes with the estimate. `--quick` takes a fifth of everything. */
export function benchPacing(flags: ReadonlySet<string>): void {
  const part = flags.has('quick') ? 5 : 1;
  const draws = 1000 / part;
  benchFeeds(200 / part);
  benchFollowing(10 / part);
  printTable('Feeds drawn from published flows that stay silent', FLOW_COLUMNS, publishedFlows(draws), [
    `${draws} feeds of each, seeds 1 to ${draws}. Goal: at least 90 %.`,
  ]);
  benchDetection();
  benchMargin(part === 1 ? 3 : 1);
}
