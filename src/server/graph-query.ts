/** Options of a graph from the query of a request. Pure. */
import type { GraphOptions } from '../app/review/graph-options.ts';

const GRAPH_WIDTH_PX = { least: 280, usual: 720, most: 2400 } as const;

export function graphOptions(query: Record<string, unknown>): GraphOptions {
  const asked = Number(query.width ?? GRAPH_WIDTH_PX.usual);
  const isInPage = query.place === 'page';
  const width = Number.isFinite(asked) ? asked : GRAPH_WIDTH_PX.usual;
  return {
    widthPx: Math.round(Math.min(GRAPH_WIDTH_PX.most, Math.max(GRAPH_WIDTH_PX.least, width))),
    volumeUnit: query.unit === 'ml' ? 'ml' : 'fl-oz',
    theme: isInPage ? 'inline' : 'light',
    language: query.language === 'es' ? 'es' : 'en',
    hasHeading: !isInPage,
    hasNotes: !isInPage,
  };
}
