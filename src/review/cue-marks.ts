import * as Plot from '@observablehq/plot';
import type { CueKind } from '../pacing/cue.ts';
import type { FeedTrace } from './feed-trace.ts';
import type { PanelContext } from './panel.ts';

/** How a cue looks and reads in a graph: a shape of its own, told apart without color, and the words that were shown. */
export interface CueMark {
  kind: CueKind;
  /** The words on the caregiver's page when it came. */
  words: string;
  shape: 'triangle-down' | 'circle' | 'bow-tie' | 'square' | 'diamond' | 'bar';
  /** The cue that asks to slow down is filled, the others are open. */
  isFilled: boolean;
}

/** In the order of their lanes. */
export const CUE_MARKS: readonly CueMark[] = [
  { kind: 'tilt-down', words: 'Lower your hand', shape: 'triangle-down', isFilled: true },
  { kind: 'burp', words: 'Burp', shape: 'circle', isFilled: false },
  { kind: 'switch-side', words: 'Change arms', shape: 'bow-tie', isFilled: false },
  { kind: 'offer-stop', words: 'Look at baby', shape: 'square', isFilled: false },
  { kind: 'asleep-early', words: 'Asleep early', shape: 'square', isFilled: true },
  { kind: 'breath-pause', words: 'A short rest', shape: 'bar', isFilled: true },
  // Hints: one small shape, each in a lane of its own.
  { kind: 'hole-dry', words: 'The hole is dry', shape: 'diamond', isFilled: false },
  { kind: 'lower-is-fine', words: 'Lower is fine', shape: 'diamond', isFilled: false },
  { kind: 'little-coming', words: 'Check the nipple', shape: 'diamond', isFilled: false },
  { kind: 'long-feed', words: 'A long feed', shape: 'diamond', isFilled: false },
  { kind: 'hold-upright', words: 'Hold upright', shape: 'diamond', isFilled: false },
  { kind: 'hunger-again', words: 'Look again', shape: 'diamond', isFilled: false },
];

type TracedCue = FeedTrace['cues'][number];

/** The cues of one kind, each where it came in time and at the height that `y` tells (null: left out). */
export function cueDots(
  { trace, palette }: PanelContext,
  mark: CueMark,
  y: (cue: TracedCue) => number | null,
  sizePx: number,
): Plot.Markish {
  return Plot.dot(
    trace.cues.filter((cue) => cue.kind === mark.kind),
    {
      x: 'min',
      y,
      symbol: { draw: (path: CanvasPath) => drawShape(path, mark.shape, sizePx) },
      fill: mark.isFilled ? palette.hue : palette.paper,
      stroke: palette.ink,
      strokeWidth: 1.3,
    },
  );
}

/** Corners in halves of the mark's size; y downwards. */
const CORNERS: Record<Exclude<CueMark['shape'], 'circle'>, readonly (readonly [x: number, y: number])[]> = {
  'triangle-down': [
    [-1.15, -0.9],
    [1.15, -0.9],
    [0, 1.1],
  ],
  'bow-tie': [
    [-1.2, -0.9],
    [1.2, 0.9],
    [1.2, -0.9],
    [-1.2, 0.9],
  ],
  diamond: [
    [0, -1],
    [0.8, 0],
    [0, 1],
    [-0.8, 0],
  ],
  bar: [
    [-0.35, -1.1],
    [0.35, -1.1],
    [0.35, 1.1],
    [-0.35, 1.1],
  ],
  square: [
    [-0.9, -0.9],
    [0.9, -0.9],
    [0.9, 0.9],
    [-0.9, 0.9],
  ],
};

function drawShape(path: CanvasPath, shape: CueMark['shape'], sizePx: number): void {
  const half = sizePx / 2;
  if (shape === 'circle') {
    path.moveTo(half, 0);
    path.arc(0, 0, half, 0, 2 * Math.PI);
    return;
  }
  const [first, ...others] = CORNERS[shape];
  path.moveTo(first![0] * half, first![1] * half);
  for (const [x, y] of others) path.lineTo(x * half, y * half);
  path.closePath();
}
