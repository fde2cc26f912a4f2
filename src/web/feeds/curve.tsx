/** A feed's milk over time, as small as a word and all on one scale: a poured feed is seen before it is read. */
import type { FeedCurve } from '../../review/facts/feed-curve.ts';

/** Of the drawing, px, and what it spans: a longer or larger feed widens the scale of all of them. */
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

/** Pieces of a line through the points for which `has` holds; a gap parts them. */
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
