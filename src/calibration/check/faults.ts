import type { Hold, Triple } from '../walk/hold.ts';
import { drawnCountsPerGram, POSE_NAMES, POSES, type SleeveDesign } from '../walk/sleeve-design.ts';

export type FaultCode =
  | 'hold-short'
  | 'hold-unsteady'
  | 'cell-silent'
  | 'accelerometer-silent'
  | 'pose-other'
  | 'mass-missing'
  | 'mass-misplaced'
  | 'mass-unit'
  | 'mass-misfit'
  | 'mass-left'
  | 'bottle-missing'
  | 'bottle-not-empty'
  | 'fill-other'
  | 'cell-still'
  | 'cells-swapped'
  | 'cell-reversed';

/** A hold with one of these faults is never stored, even if the person insists. */
const NOTHING_TO_KEEP: readonly FaultCode[] = ['hold-short', 'cell-silent', 'accelerometer-silent'];
export const leavesNothing = ({ code }: Fault): boolean => NOTHING_TO_KEEP.includes(code);

export interface Fault {
  code: FaultCode;
  text: string;
  remedy: string;
}

export const CELL_NAMES = ['axial', 'front', 'rear'] as const;

const LEAST_SAMPLES = 120;
/** A sleeve at rest on a table scatters by 1.4 mg; a hand by 10 or more. */
const STEADY_SD_G = 0.006;
const STEADY_DRIFT_G = 0.004;
const STEADY_DRIFT_GRAMS = 1.5;
const POSE_WITHIN_DEG = 20;

/** Faults found from a hold alone: too short, unsteady, a sensor silent. */
export function faultsOfHold(hold: Hold, design: SleeveDesign): Fault[] {
  const countsPerGram = drawnCountsPerGram(design);
  const faults: Fault[] = [];
  if (hold.samples < LEAST_SAMPLES) {
    faults.push({
      code: 'hold-short',
      text: `Only ${hold.samples} samples came in this hold.`,
      remedy: 'Check the cable, then hold the sleeve still again for 3 seconds.',
    });
    return faults;
  }
  hold.flagged.forEach((count, i) => {
    if (count < hold.samples / 2) return;
    faults.push(
      i === 3
        ? {
            code: 'accelerometer-silent',
            text: 'The accelerometer gives no readings.',
            remedy: 'Check its wires, then repeat this step.',
          }
        : {
            code: 'cell-silent',
            text: `The ${CELL_NAMES[i]} cell gives no readings.`,
            remedy: 'Check its wires and its plug, then repeat this step.',
          },
    );
  });
  if (faults.length > 0) return faults;
  const shaky =
    hold.accelerometerSd.some((sd) => sd > STEADY_SD_G * 8192) ||
    hold.accelerometerDrift.some((drift) => Math.abs(drift) > STEADY_DRIFT_G * 8192) ||
    hold.cellDrift.some((drift, i) => Math.abs(drift) > STEADY_DRIFT_GRAMS * countsPerGram[i]!);
  if (shaky) {
    faults.push({
      code: 'hold-unsteady',
      text: 'The sleeve was not still during this hold.',
      remedy: 'Rest it on the table or against something, wait until nothing swings, and repeat the step.',
    });
  }
  return faults;
}

const degreesBetween = (a: readonly number[], b: readonly number[]): number => {
  const cos = a.reduce((sum, entry, i) => sum + entry * b[i]!, 0) / (Math.hypot(...a) * Math.hypot(...b));
  return (Math.acos(Math.max(-1, Math.min(1, cos))) * 180) / Math.PI;
};

/** @param felt direction by the accelerometer, sleeve axes */
export function poseFault(felt: Readonly<Triple>, asked: readonly number[]): Fault | null {
  const off = degreesBetween(felt, asked);
  if (off <= POSE_WITHIN_DEG) return null;
  const nearest = POSE_NAMES.map((name) => ({ name, off: degreesBetween(felt, POSES[name].f) })).sort(
    (a, b) => a.off - b.off,
  )[0]!;
  const seen =
    nearest.off <= POSE_WITHIN_DEG
      ? `It is ${POSES[nearest.name].words}.`
      : `It is ${off.toFixed(0)}° away from that.`;
  return {
    code: 'pose-other',
    text: `The sleeve is not in the pose asked for. ${seen}`,
    remedy: 'Bring it into the pose and repeat the step; a few degrees do not matter.',
  };
}

/** If the weight of a filling differs from the typed one by more than this, it is another filling, g. */
const FILL_WITHIN_GRAMS = 4;

/** @param weighedGrams by the sleeve, less the empty bottle */
export function fillFault(weighedGrams: number, toldGrams: number, toleranceGrams: number): Fault | null {
  if (Math.abs(weighedGrams - toldGrams) <= FILL_WITHIN_GRAMS + toleranceGrams) return null;
  return {
    code: 'fill-other',
    text: `The bottle weighs as if ${weighedGrams.toFixed(0)} g were in it, but ${toldGrams.toFixed(0)} g were typed in.`,
    remedy:
      'Check that this bottle was the empty one too, weigh the filling again, type it in, and repeat the step.',
  };
}

/** Lowest weight of a bottle, g (own assumption, no source). */
const LEAST_BOTTLE_GRAMS = 15;

/** @param weighedGrams in the sleeve, less the cup */
export function missingBottleFault(weighedGrams: number): Fault | null {
  if (weighedGrams >= LEAST_BOTTLE_GRAMS) return null;
  return {
    code: 'bottle-missing',
    text: 'The bottle is not in the sleeve: it weighs as much as the cup alone.',
    remedy: 'Push the bottle in until it stops, and repeat the step.',
  };
}

/** @param weighedGrams by the sleeve, less the empty bottle as first weighed */
export function emptyBottleFault(weighedGrams: number): Fault | null {
  if (Math.abs(weighedGrams) <= FILL_WITHIN_GRAMS) return null;
  const other = weighedGrams < 0 ? 'less' : 'more';
  return {
    code: 'bottle-not-empty',
    text: `The empty bottle weighs ${Math.abs(weighedGrams).toFixed(0)} g ${other} than before.`,
    remedy:
      'See that it is the same bottle, empty and dry, with its nipple on; then repeat the step, or the one before.',
  };
}

/** A cell whose reading does not change with the pose. Needs poses that load every cell differently. */
export function stillCellFault(holds: readonly Hold[], design: SleeveDesign): Fault | null {
  if (holds.length < 4) return null;
  const countsPerGram = drawnCountsPerGram(design);
  const spans = [0, 1, 2].map((cell) => {
    const grams = holds.map(({ cells }) => cells[cell]! / countsPerGram[cell]!);
    return Math.max(...grams) - Math.min(...grams);
  });
  const still = spans.findIndex((span) => span < 3);
  if (still < 0 || Math.max(...spans) < 20) return null;
  return {
    code: 'cell-still',
    text: `The ${CELL_NAMES[still]} cell does not move: in ${holds.length} poses it changed by ${spans[still]!.toFixed(1)} g.`,
    remedy:
      'See that nothing blocks it, that its screws hold and its plug is in; then take the poses again; the weights typed in are kept.',
  };
}
