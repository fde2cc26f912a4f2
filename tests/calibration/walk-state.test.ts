import { beforeAll, describe, expect, it } from 'vitest';
import { fitSoFar } from '../../src/calibration/check/fit-so-far.ts';
import { enterFill, enterMass, gramsFromText } from '../../src/calibration/walk/entries.ts';
import type { Hold, Triple } from '../../src/calibration/walk/hold.ts';
import { outcomeOf } from '../../src/calibration/walk/outcome.ts';
import { stepWords, USUAL_PLAN } from '../../src/calibration/walk/plan.ts';
import { MARKS } from '../../src/calibration/walk/sleeve-design.ts';
import { stepsOf } from '../../src/calibration/walk/walk-so-far.ts';
import {
  nextStep,
  progressOf,
  repeatPoses,
  repeatStep,
  requireSameSleeve,
  skipStep,
  takeHold,
  type WalkState,
} from '../../src/calibration/walk/walk-state.ts';
import { begun, benchFor, holdOn, type Mistake, walked } from '../support/calibration-walk.ts';
import { seededRandom } from '../support/random.ts';

const FACTS = { finishedAt: '2026-01-05T09:40:00Z', softwareVersion: '0.0.0', uniform01: seededRandom(1) };

interface Mistaken {
  wrong: string[];
  remedies: string[];
  right: string[];
  walk: WalkState;
}

/** One walk with these mistakes made on the way, each followed by the step done right. */
function mistakenAt(cases: readonly (readonly [what: string, id: string, mistake: Mistake, code: string])[]) {
  const bench = benchFor(2);
  const seen = new Map<string, Mistaken>();
  let walk = begun(2);
  for (let step = nextStep(walk); step; step = nextStep(walk)) {
    const before = walk;
    const now = step;
    const mistaken = cases
      .filter(([, id]) => id === now.id)
      .map(([what, , mistake]) => ({
        what,
        wrong: takeHold(before, now, holdOn(bench, now, before, mistake)),
      }));
    const right = takeHold(walk, step, holdOn(bench, step, walk));
    walk = right.walk;
    for (const { what, wrong } of mistaken) {
      // Refused: nothing kept, nothing lost.
      expect(wrong.walk).toBe(before);
      seen.set(what, {
        wrong: wrong.faults.map(({ code }) => code),
        remedies: wrong.faults.map(({ remedy }) => remedy),
        right: right.faults.map(({ code }) => code),
        walk,
      });
    }
    expect(right.faults).toEqual([]);
  }
  return seen;
}

describe('bad input is named, and the step can be repeated at once', () => {
  const CASES: [string, string, Mistake, string][] = [
    ['a mass not put on', 'mass-1-level', { massGrams: 0 }, 'mass-missing'],
    ['a mass not put on, late in the walk', 'mass-9-upright', { massGrams: 0 }, 'mass-missing'],
    ['a mass at the other mark', 'mass-1-level', { mark: 'nipple' }, 'mass-misplaced'],
    ['a mass at the other mark, late in the walk', 'mass-8-level-over', { mark: 'base' }, 'mass-misplaced'],
    [
      'a mass of so many grams as were typed in ounces',
      'mass-1-upright',
      { massGrams: 200 / 28.35 },
      'mass-unit',
    ],
    ['another mass than typed in', 'mass-7-level-over', { massGrams: 160 }, 'mass-misfit'],
    ['a trembling hold', 'empty-level', { tremorDeg: 1 }, 'hold-unsteady'],
    ['another pose than asked for', 'mass-2-level', { direction: [0, 0, 1] }, 'pose-other'],
    ['a mass left in the sleeve', 'empty-again', { leftGrams: 200 }, 'mass-left'],
    ['a bottle not put in', 'bottle-empty-0', { noBottle: true }, 'bottle-missing'],
    ['an empty bottle with water in it', 'bottle-empty-90', { fillGrams: 30 }, 'bottle-not-empty'],
    ['a filling that was not filled in', 'bottle-150-90', { fillGrams: 60 }, 'fill-other'],
  ];
  let seen: Map<string, Mistaken>;
  beforeAll(() => {
    seen = mistakenAt(CASES);
  });

  it.each(CASES)('%s', (what, id, _mistake, code) => {
    const { wrong, right, remedies, walk } = seen.get(what)!;
    expect(wrong).toEqual([code]);
    expect(remedies[0]).toMatch(/\.$/);
    expect(right).toEqual([]);
    expect(walk.holds[id]).toBeDefined();
  });

  it('says which pose it saw instead', () => {
    const bench = benchFor(2);
    const { walk } = walked(bench, begun(2), (step) => step.id === 'mass-2-level');
    const step = nextStep(walk)!;
    const { faults } = takeHold(walk, step, holdOn(bench, step, walk, { direction: [0, 0, 1] }));
    expect(faults[0]!.text).toMatch(/upright/);
  });

  it('may be kept when the person insists', () => {
    const bench = benchFor(2);
    const walk = begun(2);
    const step = nextStep(walk)!;
    const shaky = holdOn(bench, step, walk, { tremorDeg: 1 });
    expect(takeHold(walk, step, shaky, { anyway: true }).walk.holds[step.id]).toBe(shaky);
  });
});

/** The cells' part of a hold, changed. */
const withCells = (hold: Hold, change: (cells: Triple) => Triple): Hold => ({
  ...hold,
  cells: change(hold.cells),
});

/** Walks until a fault comes, with every hold's cells changed. */
function firstFault(change: (cells: Triple) => Triple): { id: string; code: string; text: string } | null {
  const bench = benchFor(4);
  let walk = begun(4);
  for (let step = nextStep(walk); step && step.kind !== 'bottle'; step = nextStep(walk)) {
    const taken = takeHold(walk, step, withCells(holdOn(bench, step, walk), change));
    if (taken.faults[0]) return { id: step.id, ...taken.faults[0] };
    walk = taken.walk;
  }
  return null;
}

describe('cells', () => {
  it('in order: no fault', () => {
    expect(firstFault((cells) => cells)).toBeNull();
  });

  it.each([
    ['axial', 0],
    ['front', 1],
    ['rear', 2],
  ] as const)('the %s cell does not move', (name, index) => {
    const found = firstFault((cells) => cells.map((count, i) => (i === index ? 4242 : count)) as Triple);
    expect(found).toMatchObject({ code: 'cell-still' });
    expect(found!.text).toContain(name);
  });

  it.each([
    ['axial and the front', ([a, f, r]: Triple): Triple => [f, a, r]],
    ['axial and the rear', ([a, f, r]: Triple): Triple => [r, f, a]],
    ['front and the rear', ([a, f, r]: Triple): Triple => [a, r, f]],
  ])('the %s cell are swapped', (names, change) => {
    const found = firstFault(change);
    expect(found).toMatchObject({ code: 'cells-swapped' });
    expect(found!.text).toContain(names);
  });

  it('the rear cell is reversed', () => {
    const found = firstFault(([a, f, r]) => [a, f, -r]);
    expect(found).toMatchObject({ code: 'cell-reversed' });
    expect(found!.text).toContain('rear');
  });

  it('a silent cell is named', () => {
    const bench = benchFor(4);
    const walk = begun(4);
    const step = nextStep(walk)!;
    const hold = holdOn(bench, step, walk);
    const { faults } = takeHold(walk, step, { ...hold, flagged: [0, hold.samples, 0, 0] });
    expect(faults).toMatchObject([{ code: 'cell-silent', text: expect.stringContaining('front') }]);
  });
});

describe('what cannot be kept', () => {
  it('is refused even when the person insists: a silent cell leaves no reading', () => {
    const bench = benchFor(4);
    const walk = begun(4);
    const step = nextStep(walk)!;
    const hold = holdOn(bench, step, walk);
    const silent: Hold = {
      ...hold,
      flagged: [0, hold.samples, 0, 0],
      cells: [hold.cells[0], Number.NaN, hold.cells[2]],
    };
    expect(takeHold(walk, step, silent, { anyway: true }).walk).toBe(walk);
  });
});

describe('weights as typed in', () => {
  it('reads grams and ounces (1 oz = 28.349523125 g, NIST Handbook 44)', () => {
    expect(gramsFromText('200.3')).toBe(200.3);
    expect(gramsFromText(' 200,3 g ')).toBe(200.3);
    expect(gramsFromText('7.05 oz')).toBeCloseTo(199.864, 3);
    expect(() => gramsFromText('heavy')).toThrow(/not a weight/);
  });

  it('asks back when only the other unit makes sense', () => {
    expect(() => enterMass(begun(1), 'A', 7.05)).toThrow(/Was it 7.05 oz \(199.9 g\)/);
    expect(() => enterMass(begun(1), 'A', gramsFromText('200 oz'))).toThrow(/Was it 200.0 g/);
    expect(() => enterMass(begun(1), 'A', 30)).toThrow(/too light/);
    expect(() => enterFill(begun(1), '60', 2.1)).toThrow(/Was it 2.10 oz/);
    expect(() => enterFill(begun(1), '60', 140)).toThrow(/far from the 60 mL/);
    expect(enterMass(begun(1), 'A', 199.8).massesGrams.A).toBe(199.8);
  });
});

describe('the walk', () => {
  it('goes on after a restart: a walk is plain JSON', () => {
    const bench = benchFor(5);
    const { walk } = walked(bench, begun(5), (step) => step.id === 'mass-3-down');
    const again = JSON.parse(JSON.stringify(walk)) as WalkState;
    expect(again).toEqual(walk);
    expect(nextStep(again)!.id).toBe('mass-3-down');
    expect(progressOf(again).done).toBe(Object.keys(again.holds).length);
  });

  it('does not go on with another sleeve', () => {
    expect(() => requireSameSleeve(begun(5), 6)).toThrow(/sleeve 5, but sleeve 6/);
    expect(() => requireSameSleeve(begun(5), 5)).not.toThrow();
  });

  it('opens all holds of one putting on when one of them is repeated, and keeps the rest', () => {
    const bench = benchFor(5);
    const { walk } = walked(bench, begun(5), (step) => step.id === 'mass-4-down');
    const opened = repeatStep(walk, 'mass-2-level');
    expect(nextStep(opened)!.id).toBe('mass-2-upright');
    expect(Object.keys(walk.holds).length - Object.keys(opened.holds).length).toBe(4);
  });

  it('takes all poses anew after a plug was changed, with the weights kept', () => {
    const bench = benchFor(5);
    const { walk } = walked(bench, begun(5), (step) => step.id === 'bottle-60-90');
    const again = repeatPoses(walk);
    expect(nextStep(again)!.id).toBe('empty-upright');
    expect(again.massesGrams).toEqual(walk.massesGrams);
    expect(again.holds['bottle-60-45']).toBe(walk.holds['bottle-60-45']);
  });

  it('with the level poses skipped is refused, with the pose that is needed', () => {
    const bench = benchFor(6);
    let walk = begun(6);
    for (const { id, kind, ...step } of stepsOf(walk)) {
      const level =
        kind === 'pose' && 'pose' in step && step.pose.startsWith('level') && 'placed' in step && step.placed;
      if (level) walk = skipStep(walk, id);
    }
    walk = walked(bench, walk).walk;
    expect(() => outcomeOf(walk, FACTS)).toThrow(/cannot determine/);
    expect(fitSoFar(walk).determinacy.needed).toMatchObject({ pose: expect.stringMatching(/^level/) });
  });

  it('with one empty pose skipped still calibrates, with two it says which', () => {
    const one = walked(benchFor(6), skipStep(begun(6), 'empty-left-side')).walk;
    expect(outcomeOf(one, FACTS).determinacy.determined).toBe(true);
    const two = walked(benchFor(6), skipStep(skipStep(begun(6), 'empty-left-side'), 'empty-down')).walk;
    expect(() => outcomeOf(two, FACTS)).toThrow(
      expect.objectContaining({
        code: 'calibration-six-poses',
        remedy: expect.stringMatching(/empty-down, empty-left-side/),
      }),
    );
  });

  it('names a placement that was some millimeters off its mark', () => {
    const bench = benchFor(7);
    const real = MARKS.nipple.zMm;
    let { walk } = walked(bench, begun(7), (step) => step.id === 'mass-8-down');
    try {
      // The mark is where it is; the person puts the mass 6 mm beside it.
      (MARKS.nipple as { zMm: number }).zMm = real + 6;
      for (const id of ['mass-8-down', 'mass-8-level-over']) {
        const step = nextStep(walk)!;
        expect(step.id).toBe(id);
        const hold = holdOn(bench, step, walk);
        (MARKS.nipple as { zMm: number }).zMm = real;
        walk = takeHold(walk, step, hold, { anyway: true }).walk;
        (MARKS.nipple as { zMm: number }).zMm = real + 6;
      }
    } finally {
      (MARKS.nipple as { zMm: number }).zMm = real;
    }
    const { suspect } = fitSoFar(walk);
    expect(suspect.map(({ placement }) => placement)).toEqual(['8']);
    expect(suspect[0]!.stepId).toMatch(/^mass-8-/);
  });

  it('says each step in plain words, changes only', () => {
    const steps = stepsOf(begun(1));
    expect(stepWords(steps[0]!, null)).toMatch(/Take everything out.*upright/);
    const first = steps.findIndex(({ id }) => id === 'mass-1-upright');
    expect(stepWords(steps[first]!, steps[first - 1]!, { A: '200.0 g' })).toMatch(
      /Put mass A \(200.0 g\) at the base mark/,
    );
    expect(stepWords(steps[first + 1]!, steps[first]!)).toMatch(/Leave the mass/);
    expect(new Set(steps.map(({ id }) => id)).size).toBe(steps.length);
  });
});

describe('a bottle that is not the one of the outline', () => {
  it('is refused with the remedy, the balance is kept, and the generic profile still goes', () => {
    const bench = benchFor(8);
    const whole = walked(bench, begun(8)).walk;
    const squat = whole.outlineMm!.map(([z, r]): [number, number] => [z + (z > 60 ? 12 : 0), r * 1.1]);
    expect(() => outcomeOf({ ...whole, outlineMm: squat }, FACTS)).toThrow(/does not fit its profile/);
    const generic = outcomeOf({ ...whole, outlineMm: null }, FACTS);
    const drawn = outcomeOf(whole, FACTS);
    expect(generic.bottle.sd.neckEndMm).toBeGreaterThan(1.5 * drawn.bottle.sd.neckEndMm);
  });

  it('the two-minute way states its larger error', () => {
    const bench = benchFor(9);
    const walk = {
      ...begun(9, { ...USUAL_PLAN, bottle: 'two-minutes' }),
      outlineMm: null,
      fillToleranceGrams: 3,
    };
    const outcome = outcomeOf(walked(bench, walk).walk, FACTS);
    const truth = bench.bottle.innerProfileMm;
    const found = outcome.calibration.bottle.innerProfileMm;
    expect(outcome.bottle.sd.neckEndMm).toBeGreaterThan(0.5);
    expect(Math.abs(found.at(-1)![0] - truth.at(-1)![0])).toBeLessThan(3 * outcome.bottle.sd.neckEndMm);
  });
});
