/** How many feeds that flow as published breast-like feeds do stay without a too-fast cue. */
import { publishedFlows } from './published-flows.ts';

const DRAWS = 400;

export function benchPacing(): void {
  console.log(
    `\nFeeds drawn from published flows, ${DRAWS} of each, seeds 1 to ${DRAWS}. Goal: at least 90 % silent.`,
  );
  for (const line of publishedFlows(DRAWS)) console.log(`  ${line}`);
}
