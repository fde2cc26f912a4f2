/** The walk with a sleeve built as the build guide says, whose cells lie and answer otherwise than the simulated sleeve's. */
import { describe, expect, it } from 'vitest';
import { BUILT_ACCELEROMETER_MM, BUILT_DESIGN } from '../../src/app/sleeve/built-sleeve.ts';
import { outcomeOf } from '../../src/calibration/walk/outcome.ts';
import { stepWords } from '../../src/calibration/walk/plan.ts';
import type { SleeveDesign } from '../../src/calibration/walk/sleeve-design.ts';
import { nextStep, takeHold, type WalkState } from '../../src/calibration/walk/walk-state.ts';
import { DEFAULT_BOTTLE } from '../../src/simulation/bottle.ts';
import type { CalibrationBench } from '../../src/simulation/calibration-bench.ts';
import type { SleeveConstants } from '../../src/simulation/drawn-sleeve.ts';
import { begun, benchFor, holdOn, type Mistake, walked } from '../support/calibration-walk.ts';
import { seededRandom } from '../support/random.ts';

const HOLDER_GRAMS = 25;
/** Cells that came 20 % more, 20 % less and 10 % more sensitive than their data sheet says. */
const GAINS = [0.8, 1.25, 0.9] as const;

function sleeveOf({ frontCellZMm, rearCellZMm, newtonsPerCount }: SleeveDesign): SleeveConstants {
  const [axial, front, rear] = newtonsPerCount.map((newtons, i) => newtons * GAINS[i]!) as [
    number,
    number,
    number,
  ];
  return {
    loadPerCount: [
      [0, front, rear],
      [axial, 0, 0],
      [0, (front * frontCellZMm) / 1000, (rear * rearCellZMm) / 1000],
    ],
    zeroCounts: [52_000, -31_000, 8_000],
    accelerometerBiasG: [0.01, -0.02, 0.015],
    accelerometerScale: [1.004, 0.997, 1.001],
  };
}

/** Cup with liner and tube: 57 g. */
const bottle = { ...DEFAULT_BOTTLE, emptyMassGrams: 138, cupMassGrams: 32 + HOLDER_GRAMS, cupCentreZMm: 62 };
const bench = (): CalibrationBench => benchFor(51, { sleeve: sleeveOf(BUILT_DESIGN), bottle });
const walk = (): WalkState => ({ ...begun(51), design: BUILT_DESIGN, holderGrams: HOLDER_GRAMS });

it('its counts a newton follow from cell and converter', () => {
  // 4.3 mV at 9.80665 N, over ±16.8 mV in 24 bits: 2,147,484 counts, which is also what the checklist's tenth of rated load rests on.
  for (const newtons of BUILT_DESIGN.newtonsPerCount) expect(9.80665 / newtons).toBeCloseTo(2_147_484, -1);
});

describe('a built sleeve', () => {
  it('is calibrated without a false alarm, though its cells differ from their data sheets', () => {
    const on = bench();
    const { walk: done, faults } = walked(on, walk());
    expect(faults).toEqual([]);
    const { calibration } = outcomeOf(done, {
      finishedAt: '2026-01-05T09:40:00Z',
      softwareVersion: '1.2.3',
      uniform01: seededRandom(1),
      accelerometerPositionMm: BUILT_ACCELEROMETER_MM,
    });
    const counts = on.countsOf([3, 2, 0.3]).map((count, i) => count - on.zeroCounts[i]!);
    const loads = calibration.loadPerCount.map((row) =>
      row.reduce((sum, entry, i) => sum + entry * counts[i]!, 0),
    );
    [3, 2, 0.3].forEach((load, i) => {
      expect(Math.abs(loads[i]! / load - 1)).toBeLessThan(0.005);
    });
    expect(calibration.accelerometer.positionMm).toEqual([-41.6, 0, 65]);
    // The tube was in the cup when it was weighed, but is not counted as part of it: 57 g less the tube.
    expect((calibration as unknown as { cup: { massGrams: number } }).cup.massGrams).toBeCloseTo(32, 0);
  });

  it.each<[string, string, Mistake, string]>([
    ['a mass not put on', 'mass-1-level', { massGrams: 0 }, 'mass-missing'],
    ['a mass at the other mark', 'mass-1-level', { mark: 'nipple' }, 'mass-misplaced'],
    ['ounces for grams', 'mass-1-upright', { massGrams: 200 / 28.35 }, 'mass-unit'],
    ['a trembling hold', 'empty-level', { tremorDeg: 1 }, 'hold-unsteady'],
  ])('%s is named', (_, id, mistake, code) => {
    const on = bench();
    const { walk: now } = walked(on, walk(), (step) => step.id === id);
    const step = nextStep(now)!;
    expect(takeHold(now, step, holdOn(on, step, now, mistake)).faults.map((fault) => fault.code)).toEqual([
      code,
    ]);
  });

  it.each([
    ['axial and front', [1, 0, 2]],
    ['front and rear', [0, 2, 1]],
  ] as const)('%s swapped is named', (_, order) => {
    const on = bench();
    let now = walk();
    let code: string | null = null;
    for (let step = nextStep(now); step && step.kind !== 'bottle' && !code; step = nextStep(now)) {
      const hold = holdOn(on, step, now);
      const swapped = { ...hold, cells: order.map((i) => hold.cells[i]!) as [number, number, number] };
      const taken = takeHold(now, step, swapped);
      code = taken.faults[0]?.code ?? null;
      now = taken.walk;
    }
    expect(code).toBe('cells-swapped');
  });

  it('is told where the tube stays and where it goes', () => {
    const [first] = [nextStep(walk())!];
    expect(stepWords(first, null, {}, true)).toContain(
      'only the inner cup and the empty tube stay in the sleeve',
    );
    const empty = { kind: 'bottle', id: 'bottle-empty-0', fill: null, tiltDeg: 0 } as const;
    expect(stepWords(empty, first, {}, true)).toMatch(/^Take the tube out\. Put the dry, empty bottle/);
  });
});
