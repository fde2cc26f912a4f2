/** A feed's milk over time as a small curve, the same scale for all feeds, so that a poured feed is seen at once. */
import type { FeedCurve } from '../../review/facts/feed-curve.ts';

/** Size of the drawing in px, and the range it covers; a longer or larger feed widens the scale for all. */
const WIDTH = 72;
const HEIGHT = 34;
const LEAST_MINUTES = 20;
const LEAST_ML = 100;

export interface Scale {
  minutes: number;
  ml: number;
}

export function scaleOf(curves: readonly FeedCurve[]): Scale {
  return {
    minutes: Math.max(LEAST_MINUTES, ...curves.map(({ lengthMin }) => lengthMin)),
    ml: Math.max(LEAST_ML, ...curves.flatMap(({ takenMl }) => takenMl.map((ml) => ml ?? 0))),
  };
}

/** Line segments through the points for which `has` is true; a gap separates them. */
export function lineOf({ lengthMin, takenMl }: FeedCurve, scale: Scale, has: (i: number) => boolean): string {
  let isOn = false;
  return takenMl
    .map((ml, i) => {
      if (ml === null || !has(i)) {
        isOn = false;
        return '';
      }
      const x = (WIDTH * lengthMin * i) / (takenMl.length - 1) / scale.minutes;
      const y = 2 + (HEIGHT - 4) * (1 - ml / scale.ml);
      const step = `${isOn ? 'L' : 'M'}${x.toFixed(1)} ${y.toFixed(1)}`;
      isOn = true;
      return step;
    })
    .join('');
}

export function Curve({ curve, scale }: { curve: FeedCurve; scale: Scale }) {
  return (
    <svg class="curve" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} width={WIDTH} height={HEIGHT} aria-hidden="true">
      <path class="curve-base" d={`M0 ${HEIGHT - 1}H${WIDTH}`} />
      <path class="curve-line" d={lineOf(curve, scale, () => true)} />
      <path class="curve-fast" d={lineOf(curve, scale, (i) => curve.fast[i]!)} />
    </svg>
  );
}
