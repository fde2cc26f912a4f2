/** What the bring-up steps measure, from samples to the numbers that their limits stand beside. Pure. */

import { creepOf, mean, type Recording, stretches, warmthOf } from '../first-measurement/recording.ts';
import { allanDeviation } from './allan.ts';
import type { CheckSample } from './check-values.ts';
import type { CellName } from './checklist-types.ts';
import { delayOf } from './delay.ts';

/** Axial, front, rear: what a count of each cell weighs, g. */
export type GramsPerCount = readonly [number, number, number];

/** Numbers in the order of the step's limits; `trouble` when they mean nothing, and why. */
export interface Measured {
  readonly values: readonly (number | null)[];
  readonly trouble: string | null;
}
const measured = (values: readonly number[]): Measured => ({ values, trouble: null });
const troubled = (trouble: string): Measured => ({ values: [], trouble });

const INDEX: Record<CellName, 0 | 1 | 2> = { axial: 0, front: 1, rear: 2 };
const ACCELEROMETER_COUNTS_PER_G = 8192;

function recordingsOf(samples: readonly CheckSample[], scale: GramsPerCount): Recording[] {
  const lasted = samples[samples.length - 1]!.atSec - samples[0]!.atSec;
  const perSec = (samples.length - 1) / lasted;
  return scale.map((grams, cell) => ({ perSec, grams: samples.map((s) => s.cells[cell]! * grams) }));
}

const secondsOf = ({ grams, perSec }: Recording): number[] => stretches(grams, Math.round(perSec)).map(mean);

/** [noise by seconds ×3, noise by minutes ×3, drift ×3], g, each for axial, front, rear. */
export function longRestMeasured(samples: readonly CheckSample[], scale: GramsPerCount): Measured {
  const cells = recordingsOf(samples, scale).map(secondsOf);
  return measured([
    ...cells.map((seconds) => allanDeviation(seconds, 1)),
    ...cells.map((seconds) => allanDeviation(seconds, 60)),
    ...cells.map((seconds) => mean(seconds.slice(-60)) - mean(seconds.slice(0, 60))),
  ]);
}

/** Before the mass, the first so many seconds; after it stands, so many pass before it is read. */
const BEFORE_SEC = 5;
const SETTLE_SEC = 3;
const LEAST_LEFT_SEC = 540;
/** Creep of less load than this drowns in drift. */
const LEAST_LOAD_GRAMS = 50;

/** [creep of each cell in % of its load, load of these cells together in g]. */
export function creepMeasured(
  names: readonly CellName[],
  samples: readonly CheckSample[],
  scale: GramsPerCount,
): Measured {
  const all = recordingsOf(samples, scale);
  const cells = names.map((name) => all[INDEX[name]]!);
  const seconds = cells.map(secondsOf);
  const zeros = seconds.map((cell) => mean(cell.slice(0, BEFORE_SEC)));
  const loadAt = seconds[0]!.map((_, t) =>
    seconds.reduce((sum, cell, i) => sum + (cell[t] ?? Number.NaN) - zeros[i]!, 0),
  );
  const loadGrams = mean(loadAt.slice(-20));
  const onAt = loadAt.findIndex((grams) => Math.abs(grams) > Math.abs(loadGrams) / 2);
  if (!(Math.abs(loadGrams) > LEAST_LOAD_GRAMS))
    return troubled('No mass was put on, or it did not rest on these cells.');
  if (onAt < BEFORE_SEC) return troubled('The mass was on before ten seconds had passed.');
  const from = onAt + SETTLE_SEC;
  if (loadAt.length - from < LEAST_LEFT_SEC)
    return troubled('The mass was put on too late: it must lie there for nine minutes at least.');
  const creeps = cells.map(({ grams, perSec }, i) =>
    creepOf({ perSec, grams: grams.slice(Math.round(from * perSec)) }, zeros[i]),
  );
  const light = creeps.findIndex((creep) => Math.abs(creep.lateGrams) < LEAST_LOAD_GRAMS);
  if (light >= 0)
    return troubled(
      `Too little of the mass rests on the ${names[light]} cell to see it creep: move it along the sleeve.`,
    );
  return measured([
    ...creeps.map(({ atOnceGrams, lateGrams }) => (100 * (lateGrams - atOnceGrams)) / lateGrams),
    loadGrams,
  ]);
}

/** A hand that moves less tells nothing of delay, g. */
const LEAST_MOVED_G = 0.03;

/** [delay in ms, share explained in %]. */
export function delayMeasured(samples: readonly CheckSample[], scale: GramsPerCount): Measured {
  const [, front, rear] = recordingsOf(samples, scale);
  const found = delayOf(
    front!.grams.map((grams, i) => grams + rear!.grams[i]!),
    samples.map((s) => s.accelerometer[0] / ACCELEROMETER_COUNTS_PER_G),
    front!.perSec,
  );
  if (found.movedG < LEAST_MOVED_G)
    return troubled('The sleeve was moved too little: up and down by a hand’s breadth, all the time.');
  return measured([found.delayMs, 100 * found.explained]);
}

/** One press: what the kitchen scale showed more, and the samples meanwhile; the first is rest, 0 g. */
export interface Press {
  readonly scaleGrams: number;
  readonly samples: readonly CheckSample[];
}
const LEAST_PRESS_STEP_GRAMS = 50;

/** [response to the last press over that to the first in %, shown of the first in %]. */
export function stopsMeasured(cell: CellName, presses: readonly Press[], scale: GramsPerCount): Measured {
  const points = presses.map(({ scaleGrams, samples }) => ({
    scaleGrams,
    cellGrams: mean(samples.map((s) => s.cells[INDEX[cell]] * scale[INDEX[cell]])),
  }));
  const steps = points.slice(1).map((point, i) => ({
    pressed: point.scaleGrams - points[i]!.scaleGrams,
    shown: point.cellGrams - points[i]!.cellGrams,
  }));
  if (
    steps.length < 2 ||
    !steps.every(({ pressed, shown }) => pressed >= LEAST_PRESS_STEP_GRAMS && Number.isFinite(shown))
  )
    return troubled(`Each press must be at least ${LEAST_PRESS_STEP_GRAMS} g harder than the one before.`);
  const responses = steps.map(({ pressed, shown }) => shown / pressed);
  const [first, last] = [responses[0]!, responses[responses.length - 1]!];
  return measured([(100 * last) / first, 100 * first]);
}

/** Less warmth than this moves the zeros less than they drift, K. */
const LEAST_WARMER_K = 10;

/** [g per 10 K of each cell]. @param warmerK bottle over room when it was put in */
export function warmthMeasured(
  samples: readonly CheckSample[],
  warmerK: number,
  scale: GramsPerCount,
): Measured {
  if (!(warmerK >= LEAST_WARMER_K))
    return troubled(`The water must be at least ${LEAST_WARMER_K} °C (18 °F) warmer than the room.`);
  return measured(recordingsOf(samples, scale).map((cell) => (10 * warmthOf(cell).zeroMovedGrams) / warmerK));
}
