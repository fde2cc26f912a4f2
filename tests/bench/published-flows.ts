/** How many feeds drawn from the published flows at the breast pass without a tilt-down, by source and assumption. */
import { PUBLISHED_DRAWS, runDraw } from '../support/published-draws.ts';

/** @returns lines of a table; `count` feeds for each draw, seeds 1 to count */
export function publishedFlows(count: number): string[] {
  const lines = [
    '| source | assumed beside it | silent | of the rest: pouring bucket / lasting bucket |',
    '| --- | --- | --- | --- |',
  ];
  for (const published of PUBLISHED_DRAWS) {
    const { silentShare, fired } = runDraw(published, count);
    const pouring = fired.filter((one) => one.byPouring).length;
    lines.push(
      `| ${published.name} | ${published.assumed ?? 'nothing'} | ${(100 * silentShare).toFixed(1)} % | ${pouring} / ${fired.length - pouring} |`,
    );
  }
  return lines;
}
