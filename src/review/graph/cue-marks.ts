import * as Plot from '@observablehq/plot';
import type { CueMark } from '../../pacing/cues/cue-record.ts';
import { CUES, type CueKind } from '../../pacing/cues/cues.ts';
import type { ShownCue } from '../../pacing/cues/shown-cues.ts';
import { type Language, WORDS } from '../../pacing/cues/words.ts';
import type { TracedCue } from './feed-trace.ts';
import type { PanelContext } from './panel.ts';

/** The words of a cue on the caregiver's page. */
export const cueWords = (shown: ShownCue, language: Language): string => WORDS[language].shown[shown].glance;

/** The cues of one kind, each at its time and at the height given by `y` (null: left out). */
export function cueDots(
  { trace, palette }: PanelContext,
  kind: CueKind,
  y: (cue: TracedCue) => number | null,
  sizePx: number,
): Plot.Markish {
  const mark: CueMark = CUES[kind].mark;
  return Plot.dot(
    trace.cues.filter((cue) => cue.kind === kind),
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
