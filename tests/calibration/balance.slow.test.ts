import { describe, expect, it } from 'vitest';
import { fitSoFar } from '../../src/calibration/check/fit-so-far.ts';
import { fitBalance, loadCovariance } from '../../src/calibration/fit/balance.ts';
import { fitBottle } from '../../src/calibration/fit/bottle.ts';
import { determinacyOf, MAX_CONDITION, requireDetermined } from '../../src/calibration/fit/determinacy.ts';
import { creepCovariance } from '../../src/calibration/fit/reading-errors.ts';
import { holdFromSamples } from '../../src/calibration/walk/hold.ts';
import { bottleObservationsOf } from '../../src/calibration/walk/outcome.ts';
import { OUTLINE_DOUBT } from '../../src/calibration/walk/profile.ts';
import {
  FULL_LOAD_GRAMS,
  MARKS,
  POSE_NAMES,
  POSES,
  USUAL_TOLERANCE,
} from '../../src/calibration/walk/sleeve-design.ts';
import { accelerometerSoFar, observationsOf } from '../../src/calibration/walk/walk-so-far.ts';
import { REALISTIC_ERRORS } from '../../src/simulation/bench-setting.ts';
import { DEFAULT_BOTTLE } from '../../src/simulation/bottle.ts';
import { begun, benchFor, walked } from '../support/calibration-walk.ts';

const GRAM = 0.00980665;
const TILTS = [30, 60, 80, 100, 120, 150];

/** Errors of a full bottle's loads over the tilts of a feed, g (moment: at 100 mm), with their stated standard deviations. */
function loadErrors(
  bench: ReturnType<typeof benchFor>,
  walk: ReturnType<typeof begun>,
): { error: number; sd: number }[] {
  const fit = fitBalance(observationsOf(walk), accelerometerSoFar(walk)!)!;
  return TILTS.flatMap((degrees) => {
    const tilt = (degrees * Math.PI) / 180;
    const grams: [number, number, number] = [
      FULL_LOAD_GRAMS * Math.sin(tilt),
      FULL_LOAD_GRAMS * Math.cos(tilt),
      0.8 * FULL_LOAD_GRAMS * Math.sin(tilt),
    ];
    const counts = bench.countsOf([grams[0] * GRAM, grams[1] * GRAM, (grams[2] * GRAM) / 10]);
    const covariance = loadCovariance(fit, grams);
    return fit.loadPerCount.map((row, i) => {
      const newtons = row.reduce((sum, entry, k) => sum + entry * (counts[k]! - fit.zeroCounts[k]!), 0);
      return { error: (newtons / GRAM) * (i === 2 ? 10 : 1) - grams[i]!, sd: Math.sqrt(covariance[i]![i]!) };
    });
  });
}

describe('twelve simulated calibrations', () => {
  const runs = Array.from({ length: 12 }, (_, i) => {
    const bench = benchFor(i + 1);
    const loadPart = walked(bench, begun(i + 1), (step) => step.kind === 'bottle');
    return { bench, ...loadPart, loads: loadErrors(bench, loadPart.walk) };
  });

  it('reports no fault on a good sleeve', () => {
    expect(runs.flatMap(({ faults }) => faults)).toEqual([]);
  });

  it('measures loads within 0.15 % of the full load at 95 %', () => {
    const errors = runs
      .flatMap(({ loads }) => loads.map(({ error }) => Math.abs(error)))
      .sort((a, b) => a - b);
    expect(errors[Math.floor(0.95 * errors.length)]! / FULL_LOAD_GRAMS).toBeLessThan(0.0015);
  });

  it('states an uncertainty of the size of its errors', () => {
    const all = runs.flatMap(({ loads }) => loads);
    const meanSquare = all.reduce((sum, { error, sd }) => sum + (error / sd) ** 2, 0) / all.length;
    // Mean of about 12 × 5 independent normalized squares: 1 ± 0.18 (chi-square); 3 of that are allowed.
    expect(meanSquare).toBeGreaterThan(0.45);
    expect(meanSquare).toBeLessThan(1.55);
  });

  it('finds bottles: ends within 0.45 mm each, two thirds within 0.2 mm', () => {
    const ends = runs.slice(0, 5).flatMap(({ bench, walk }) => {
      const done = walked(bench, walk).walk;
      const balance = fitBalance(observationsOf(done), accelerometerSoFar(done)!)!;
      const bottle = fitBottle(
        balance,
        bottleObservationsOf(done),
        DEFAULT_BOTTLE.innerProfileMm,
        OUTLINE_DOUBT,
      );
      const truth = bench.bottle.innerProfileMm;
      expect(Math.abs(bottle.emptyMassGrams - bench.bottle.emptyMassGrams)).toBeLessThan(0.25);
      expect(Math.abs(bottle.emptyCentreZMm - bench.bottle.emptyCentreZMm)).toBeLessThan(0.35);
      return [
        bottle.innerProfileMm[0]![0] - truth[0]![0],
        bottle.innerProfileMm.at(-1)![0] - truth.at(-1)![0],
      ].map(Math.abs);
    });
    expect(Math.max(...ends)).toBeLessThan(0.45);
    expect(ends.filter((end) => end < 0.2).length).toBeGreaterThanOrEqual(7);
    // Five whole bottles: some seconds, more on a busy machine.
  });

  it('shows residuals of the size of the zeros’ walk', () => {
    const { residualGrams, suspect } = fitSoFar(runs[0]!.walk);
    expect(residualGrams.length).toBeGreaterThan(30);
    expect(Math.max(...residualGrams.map(({ grams }) => grams))).toBeLessThan(2);
    expect(suspect).toEqual([]);
  });
});

/** The load part of a walk in which nothing is off but what `errors` says. */
function withoutErrors(errors: { chipTurnDeg?: number; chipSkew?: number }) {
  const none = { massGrams: 0, placeMm: 0, poseDeg: 0, chipTurnDeg: 0, chipSkew: 0, creepShare: 0 };
  const bench = benchFor(3, {
    errors: { ...none, ...errors },
    sensors: { cellNoiseScale: 0, zeroDriftGramsPerSqrtMin: 0, accelerometerNoiseMg: 0 },
  });
  return { bench, walk: walked(bench, begun(3), (step) => step.kind === 'bottle').walk };
}

describe('without any error in fixtures and sensors', () => {
  it('finds the matrix itself', () => {
    const { bench, walk } = withoutErrors({ chipTurnDeg: 1, chipSkew: 0.002 });
    for (const { error } of loadErrors(bench, walk)) expect(Math.abs(error)).toBeLessThan(0.05);
  });

  it('reads masses beside the axis as such: the marks opposite and on the grip’s side', () => {
    const { bench, walk } = withoutErrors({});
    const beside = (['top', 'grip'] as const).flatMap((mark) =>
      (['upright', 'level', 'down'] as const).map((pose) => {
        const { xMm, zMm } = MARKS[mark];
        const masses = [{ stack: 'A', grams: 200, xMm, zMm, putOn: mark }];
        const hold = holdFromSamples(bench.hold([...POSES[pose].f], { masses }));
        return { hold, pose, placed: { stack: 'A', massGrams: 200, mark, placement: mark } };
      }),
    );
    const fit = fitBalance([...observationsOf(walk), ...beside], accelerometerSoFar(walk)!)!;
    for (const residuals of fit.residualGrams) {
      for (const grams of residuals) expect(Math.abs(grams)).toBeLessThan(0.05);
    }
    expect(fit.placements.every(({ sigmas }) => sigmas < 0.1)).toBe(true);
  });
});

describe('which pose is still needed', () => {
  const mass = (pose: (typeof POSE_NAMES)[number], mark: 'base' | 'nipple') => ({
    pose,
    placed: { stack: 'A', massGrams: 200, mark, placement: mark },
  });
  const empties = POSE_NAMES.map((pose) => ({ pose, placed: null }));

  it('the empty sleeve alone: a mass is asked for', () => {
    const found = determinacyOf(empties);
    expect(found.determined).toBe(false);
    expect(found.needed!.mark).not.toBeNull();
  });

  it('no load along the bottle yet: a pose along it is asked for', () => {
    const found = determinacyOf([...empties, mass('level', 'base'), mass('level', 'nipple')]);
    expect(found.lacking).toMatch(/a load along the bottle/);
    expect(['upright', 'down']).toContain(found.needed!.pose);
  });

  it('one mark only: the other end is asked for, level', () => {
    const found = determinacyOf([...empties, mass('level', 'base'), mass('upright', 'base')]);
    expect(found.needed).toMatchObject({ mark: 'nipple' });
    expect(['level', 'level-over']).toContain(found.needed!.pose);
  });

  it('refuses such a set with its condition number and the remedy', () => {
    expect(() => requireDetermined(determinacyOf([...empties, mass('level', 'base')]))).toThrow(
      /cannot determine the load matrix/,
    );
    try {
      requireDetermined(determinacyOf([...empties, mass('level', 'base')]));
    } catch (error) {
      expect((error as { remedy: string }).remedy).toMatch(/^Still needed: .*mass at/);
    }
  });

  it('doing what it asks for leads to a determined set within six steps', () => {
    const set: Parameters<typeof determinacyOf>[0][number][] = [];
    let found = determinacyOf(set);
    let steps = 0;
    for (; !found.determined && steps < 12; steps++) {
      const { pose, mark } = found.needed!;
      set.push({ pose, placed: mark ? { stack: 'A', massGrams: 200, mark, placement: `${steps}` } : null });
      found = determinacyOf(set);
    }
    expect(found.determined).toBe(true);
    expect(found.conditionNumber).toBeLessThan(MAX_CONDITION);
    expect(steps).toBe(6);
  });
});

describe('creep', () => {
  /** Cells that share loads plainly: axial takes Fz, front and rear take Fx by the lever law (JCGM 100, 4.3.7: half-width over √3). */
  const response = [
    [0, 1, 0],
    [-0.3, 0, 1.4],
    [1.3, 0, -1.4],
  ];
  const fit = { response, covariance: creepCovariance(response, { ...USUAL_TOLERANCE, creepShare: 0.001 }) };
  const sdOf = (load: [number, number, number]) =>
    loadCovariance(fit as never, load).map((row, i) => Math.sqrt(row[i]!));

  it('makes a load along the bottle uncertain by its own share, as one cell carries it', () => {
    const [fx, fz] = sdOf([0, 450, 0]);
    expect(fz).toBeCloseTo((0.001 / Math.sqrt(3)) * 450, 9);
    expect(fx).toBeCloseTo(0, 9);
  });

  it('makes a load across it uncertain by what front and rear carry, each for itself', () => {
    // Moment of 450 g at 80 mm: front 369 g, rear 81 g.
    const [fx] = sdOf([450, 0, 360]);
    expect(fx).toBeCloseTo(
      (0.001 / Math.sqrt(3)) * Math.hypot(-0.3 * 450 + 1.4 * 360, 1.3 * 450 - 1.4 * 360),
      9,
    );
  });

  it('spoils loads on the bench: the cells there creep between holds too', () => {
    const creeping = benchFor(1, {
      errors: { ...REALISTIC_ERRORS, creepShare: 0 },
      sensors: { creepShare: 0.002 },
    });
    const still = benchFor(1);
    const [with_, without] = [creeping, still].map((bench) =>
      loadErrors(bench, walked(bench, begun(1), (step) => step.kind === 'bottle').walk),
    );
    const worst = (loads: { error: number }[]) => Math.max(...loads.map(({ error }) => Math.abs(error)));
    // The bench's cells do creep.
    expect(worst(with_!)).toBeGreaterThan(1.5 * worst(without!));
  });
});
