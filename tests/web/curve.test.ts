import { describe, expect, it } from 'vitest';
import { lineOf, scaleOf } from '../../src/web/feeds/curve.tsx';

const curve = (lengthMin: number, takenMl: (number | null)[]) => ({
  lengthMin,
  takenMl,
  fast: takenMl.map(() => false),
});
const points = (line: string) =>
  [...line.matchAll(/[ML]([\d.]+) ([\d.]+)/g)].map(([, x, y]) => [Number(x), Number(y)]);

describe('small curves', () => {
  it('stand on one scale, so that a poured feed is the steeper one', () => {
    const [poured, slow] = [curve(5, [0, 60, 120]), curve(25, [0, 60, 120])];
    const scale = scaleOf([poured, slow]);
    expect(scale).toEqual({ minutes: 25, ml: 120 });
    const steep = (one: typeof poured) => {
      const [first, , last] = points(lineOf(one, scale, () => true));
      return (first![1]! - last![1]!) / (last![0]! - first![0]!);
    };
    expect(steep(poured) / steep(slow)).toBeCloseTo(5, 1);
  });
  it('a gap parts the line, and a short list keeps the usual scale', () => {
    const gap = curve(10, [0, null, 20, 30]);
    expect(lineOf(gap, scaleOf([gap]), () => true).match(/M/g)).toHaveLength(2);
    expect(scaleOf([])).toEqual({ minutes: 20, ml: 100 });
    expect(lineOf(gap, scaleOf([gap]), () => false)).toBe('');
  });
});
