/** A whole calibration on the simulated bench, with optional mistakes. */
import { type Hold, holdFromSamples } from '../../src/calibration/walk/hold.ts';
import { askedDirection, type PlanOptions, type Step } from '../../src/calibration/walk/plan.ts';
import { MARKS, type MarkName } from '../../src/calibration/walk/sleeve-design.ts';
import { nextStep, startWalk, takeHold, type WalkState } from '../../src/calibration/walk/walk-state.ts';
import type { BenchOptions } from '../../src/simulation/bench-setting.ts';
import { type BottleShape, DEFAULT_BOTTLE } from '../../src/simulation/bottle.ts';
import { bottleLike } from '../../src/simulation/bottle-like.ts';
import { CalibrationBench } from '../../src/simulation/calibration-bench.ts';
import { seededRandom } from './random.ts';

/** How a person deviates from a step. */
export interface Mistake {
  direction?: readonly [number, number, number];
  massGrams?: number;
  mark?: MarkName;
  tremorDeg?: number;
  fillGrams?: number;
  /** A weight left at the base mark of the sleeve, which should be empty. */
  leftGrams?: number;
  noBottle?: boolean;
}

/** One object for each shape, since tables of the milk's centre are cached by profile object. */
const bottles = new Map<number, BottleShape>();
function bottleOf(seed: number): BottleShape {
  const bottle = bottles.get(seed) ?? bottleLike(DEFAULT_BOTTLE, seed);
  bottles.set(seed, bottle);
  return bottle;
}

export const benchFor = (seed: number, options: Partial<BenchOptions> = {}): CalibrationBench =>
  new CalibrationBench({ seed, bottle: bottleOf(seed), ...options });

/** Does one step on the bench, correctly or with a mistake. `walk` has the weighed masses; the true filling differs by up to 0.1 g. */
export function holdOn(bench: CalibrationBench, step: Step, walk: WalkState, mistake: Mistake = {}): Hold {
  bench.pass(20);
  const direction = [...(mistake.direction ?? askedDirection(step))] as [number, number, number];
  const tremorDeg = mistake.tremorDeg ?? 0;
  if (mistake.noBottle) return holdFromSamples(bench.hold(direction, { tremorDeg }));
  if (mistake.leftGrams) {
    const { xMm, zMm } = MARKS.base;
    const masses = [{ stack: 'left', grams: mistake.leftGrams, xMm, zMm, putOn: 'left' }];
    return holdFromSamples(bench.hold(direction, { masses, tremorDeg }));
  }
  if (step.kind === 'bottle') {
    const told = step.fill === null ? 0 : walk.fillsGrams[step.fill]!;
    const off = step.fill === null ? 0 : 0.2 * seededRandom(Math.round(bench.zeroCounts[0]) + told)() - 0.1;
    const grams = mistake.fillGrams ?? fillTruth(bench, step.fill, told + off);
    return holdFromSamples(bench.hold(direction, { bottleWithGrams: grams, tremorDeg }));
  }
  const placed = step.kind === 'pose' ? step.placed : null;
  const mark = placed ? MARKS[mistake.mark ?? placed.mark] : null;
  const grams = placed ? (mistake.massGrams ?? walk.massesGrams[placed.stack]!) : 0;
  const putOn = `${placed?.placement} ${mistake.mark ?? ''}`;
  const masses = placed && mark ? [{ stack: placed.stack, grams, xMm: mark.xMm, zMm: mark.zMm, putOn }] : [];
  return holdFromSamples(bench.hold(direction, { masses, tremorDeg }));
}

const fillings = new WeakMap<CalibrationBench, Map<string, number>>();

/** All holds of one filling use the same true mass. */
function fillTruth(bench: CalibrationBench, fill: string | null, grams: number): number {
  if (fill === null) return 0;
  const known = fillings.get(bench) ?? new Map<string, number>();
  fillings.set(bench, known);
  if (!known.has(fill)) known.set(fill, grams);
  return known.get(fill)!;
}

export function begun(seed: number, plan?: PlanOptions): WalkState {
  const walk = startWalk({
    sleeveId: `bench-${seed}`,
    sleeveNumber: seed,
    simulated: true,
    startedAt: '2026-01-05T09:00:00Z',
    ...(plan ? { plan } : {}),
  });
  return {
    ...walk,
    massesGrams: { A: 200, B: 200 },
    fillsGrams: { '60': 60, '120': 120, '150': 150, '230': 230 },
    outlineMm: DEFAULT_BOTTLE.innerProfileMm.map(([z, r]) => [z, r]),
    teatTipZMm: 172,
  };
}

/** Continues until `until` returns true or the calibration is complete. @returns the walk and the faults found, by step */
export function walked(
  bench: CalibrationBench,
  walk: WalkState,
  until: (step: Step) => boolean = () => false,
): { walk: WalkState; faults: { id: string; code: string }[] } {
  const faults: { id: string; code: string }[] = [];
  let now = walk;
  for (let step = nextStep(now); step && !until(step); step = nextStep(now)) {
    const taken = takeHold(now, step, holdOn(bench, step, now));
    faults.push(...taken.faults.map(({ code }) => ({ id: step.id, code })));
    now = taken.faults.length > 0 ? { ...now, skipped: [...now.skipped, step.id] } : taken.walk;
  }
  return { walk: now, faults };
}
