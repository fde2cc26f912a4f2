/** How many feeds drawn from the published flows at the breast pass without a tilt-down, by source, assumption and profile. */
import { DRAWS_BY_AGE, PUBLISHED_DRAWS, type PublishedDraw, runDraw } from '../support/published-draws.ts';
import { type Cell, percent } from './table.ts';

export const FLOW_COLUMNS = [
  'source',
  'assumed beside it',
  'shipped',
  'scaled to mean at that age',
  'scaled to own feed ± 20 %',
];

/** @returns one row a draw: share that stays silent under each profile; `count` feeds each, seeds 1 to count */
export function publishedFlows(count: number): Cell[][] {
  const row = (published: PublishedDraw): Cell[] => [
    published.name,
    published.assumed ?? 'nothing',
    percent(runDraw(published, count).silentShare),
    percent(runDraw(published, count, 'population').silentShare),
    percent(runDraw(published, count, 'own').silentShare),
  ];
  return [...PUBLISHED_DRAWS, ...DRAWS_BY_AGE].map(row);
}
