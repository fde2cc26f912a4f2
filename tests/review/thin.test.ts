import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Series } from '../../src/review/graph/feed-trace.ts';
import { thin } from '../../src/review/graph/thin.ts';

const series = fc
  .array(
    fc.record({
      step: fc.double({ min: 0.0001, max: 0.2, noNaN: true }),
      amount: fc.option(fc.integer({ min: 0, max: 50 })),
    }),
    {
      maxLength: 400,
    },
  )
  .map((steps) => {
    let min = 0;
    return steps.map(({ step, amount }): Series[number] => {
      min += step;
      return { min, amount };
    });
  });

test('every column keeps its first, last, lowest and highest point, in order, and its gaps', () => {
  fc.assert(
    fc.property(series, fc.integer({ min: 1, max: 60 }), (points, columns) => {
      const endMin = 10;
      const thinned = thin(points, endMin, columns);
      const inside = points.filter(({ min }) => min <= endMin);
      expect(thinned.every((point) => inside.includes(point))).toBe(true);
      expect([...thinned].sort((a, b) => a.min - b.min)).toEqual(thinned);
      for (let column = 0; column <= columns; column++) {
        const isHere = ({ min }: Series[number]) => Math.floor((min / endMin) * columns) === column;
        const all = inside.filter(isHere);
        const kept = thinned.filter(isHere);
        const known = all.flatMap(({ amount }) => (amount === null ? [] : [amount]));
        const keptKnown = kept.flatMap(({ amount }) => (amount === null ? [] : [amount]));
        expect([kept[0], kept.at(-1)]).toEqual([all[0], all.at(-1)]);
        if (known.length > 0) {
          expect(Math.min(...keptKnown)).toBe(Math.min(...known));
          expect(Math.max(...keptKnown)).toBe(Math.max(...known));
        }
        expect(kept.length - keptKnown.length).toBe(all.length - known.length);
        expect(keptKnown.length).toBeLessThanOrEqual(4);
      }
    }),
    { seed: 5, numRuns: 150 },
  );
});

test('a long feed is thinned to a few points a pixel', () => {
  const points = Array.from({ length: 20_000 }, (_, i) => ({ min: i / 1000, amount: Math.sin(i) }));
  expect(thin(points, 20, 300).length).toBeLessThanOrEqual(4 * 301);
});
