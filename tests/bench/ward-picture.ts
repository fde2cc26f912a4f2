/** What a number of sleeves costs, as a picture. */
import * as Plot from '@observablehq/plot';
import { parseHTML } from 'linkedom';

export interface WardPoint {
  sleeves: number;
  answers: number;
  p50Ms: number;
  p99Ms: number;
  maxMs: number;
  lostBytes: number;
  workersShare: number;
  brokerShare: number;
  relaysShare: number;
  queueMs: number;
}

/** @returns an SVG file: processor time of workers, broker and relays, % of one core, over the number of sleeves */
export function drawWard(points: readonly WardPoint[]): string {
  const { document } = parseHTML('<html><body></body></html>');
  const lines = points.flatMap((one) => [
    { sleeves: one.sleeves, percent: 100 * one.workersShare, what: 'two workers' },
    { sleeves: one.sleeves, percent: 100 * one.brokerShare, what: 'broker' },
    { sleeves: one.sleeves, percent: 100 * one.relaysShare, what: 'all relays' },
  ]);
  const last = points.at(-1)?.sleeves;
  const plot = Plot.plot({
    document,
    width: 720,
    height: 420,
    marginRight: 90,
    style: { background: 'white', color: 'black', fontSize: '13px', overflow: 'visible' },
    x: { label: 'sleeves' },
    y: { label: 'processor, % of one core', grid: true, zero: true },
    marks: [
      Plot.line(lines, { x: 'sleeves', y: 'percent', z: 'what', stroke: 'what', marker: true }),
      Plot.text(
        lines.filter(({ sleeves }) => sleeves === last),
        { x: 'sleeves', y: 'percent', text: 'what', textAnchor: 'start', dx: 8 },
      ),
    ],
  });
  // As a file by itself it needs its namespace and a title, and nothing of the style for a page.
  return plot.outerHTML
    .replace(/<style>[\s\S]*?<\/style>/, '<title>Processor time over the number of sleeves</title>')
    .replace('<svg ', '<svg xmlns="http://www.w3.org/2000/svg" ');
}
