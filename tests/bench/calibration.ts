/**
 * Simulated calibrations with fixtures that are a little off: what is left over, whether the stated uncertainty covers it, and
 * which error it comes from. All in simulation.
 */

import { PlainError } from '../../src/base/errors.ts';
import { fitBalance, loadCovariance } from '../../src/calibration/fit/balance.ts';
import { fitBottle } from '../../src/calibration/fit/bottle.ts';
import { bottleObservationsOf } from '../../src/calibration/walk/outcome.ts';
import { type BottleWay, USUAL_PLAN } from '../../src/calibration/walk/plan.ts';
import { GENERIC_DOUBT, GENERIC_PROFILE_MM, OUTLINE_DOUBT } from '../../src/calibration/walk/profile.ts';
import { FULL_LOAD_GRAMS, USUAL_TOLERANCE } from '../../src/calibration/walk/sleeve-design.ts';
import { accelerometerSoFar, observationsOf, stepsOf } from '../../src/calibration/walk/walk-so-far.ts';
import type { WalkState } from '../../src/calibration/walk/walk-state.ts';
import { type BenchOptions, REALISTIC_ERRORS } from '../../src/simulation/bench-setting.ts';
import { DEFAULT_BOTTLE } from '../../src/simulation/bottle.ts';
import type { CalibrationBench } from '../../src/simulation/calibration-bench.ts';
import { begun, benchFor, holdOn } from '../support/calibration-walk.ts';
import { benchFeedCheck } from './feed-check.ts';
import { benchTaughtEnds } from './taught-ends.ts';

/** One figure of one calibration: what it is off by, and its stated standard uncertainty. */
interface Off {
  error: number;
  sd: number;
}

type Figures = Record<'Fx' | 'Fz' | 'M' | 'base end' | 'neck end' | 'empty mass' | 'empty center', Off[]> & {
  /** Walks that end in a refusal, with its remedy. */
  refused: number;
};

interface Case {
  name: string;
  runs: number;
  bench?: Partial<BenchOptions>;
  placements?: number;
  way?: BottleWay;
  generic?: boolean;
  /** What the fit takes the cells' creep to be (half-width, share of the load); default: as shipped. */
  knownCreep?: number;
}

const GRAM = 0.00980665;
/** Holds that a feed passes through, with the bottle full, half full and nearly empty. */
const TILTS_DEG = [30, 60, 80, 95, 110, 130, 150];
const LOADS_GRAMS = [180, 300, FULL_LOAD_GRAMS];

/** Takes the steps of one part as told, without the checks: they would refit at each. */
function taken(
  bench: CalibrationBench,
  walk: WalkState,
  part: 'load' | 'bottle',
  way?: BottleWay,
): WalkState {
  const holds = { ...walk.holds };
  for (const step of stepsOf(walk)) {
    if ((step.kind === 'bottle') !== (part === 'bottle')) continue;
    const mistake = step.kind === 'bottle' ? marksMistake(bench, step.fill, way) : {};
    holds[step.id] = holdOn(bench, step, walk, mistake);
  }
  return { ...walk, holds };
}

function loadErrors(
  bench: CalibrationBench,
  fit: NonNullable<ReturnType<typeof fitBalance>>,
  into: Figures,
): void {
  // The load part's state at its end, since the fit is of that time.
  const zero = fit.zeroCounts;
  for (const load of LOADS_GRAMS) {
    for (const degrees of TILTS_DEG) {
      const tilt = (degrees * Math.PI) / 180;
      const grams: [number, number, number] = [
        load * Math.sin(tilt),
        load * Math.cos(tilt),
        0.8 * load * Math.sin(tilt),
      ];
      const counts = bench.countsOf([grams[0] * GRAM, grams[1] * GRAM, (grams[2] * GRAM) / 10]);
      const covariance = loadCovariance(fit, grams);
      fit.loadPerCount.forEach((row, i) => {
        const newtons = row.reduce((sum, entry, k) => sum + entry * (counts[k]! - zero[k]!), 0);
        const error = (newtons / GRAM) * (i === 2 ? 10 : 1) - grams[i]!;
        into[(['Fx', 'Fz', 'M'] as const)[i]!].push({ error, sd: Math.sqrt(covariance[i]![i]!) });
      });
    }
  }
}

/** The truth of the load part is read before the zeros drift in the bottle part. */
function oneRun(
  seed: number,
  { bench: options, placements, way, generic, knownCreep }: Case,
  into: Figures,
): void {
  const bench = benchFor(seed, options);
  const plan = { ...USUAL_PLAN, placements: placements ?? USUAL_PLAN.placements, bottle: way ?? 'thorough' };
  const start = begun(seed, plan);
  const ownFills = way === 'two-minutes' ? { fillToleranceGrams: 3 } : {};
  const posed = taken(bench, { ...start, ...ownFills }, 'load');
  const tolerance = { ...USUAL_TOLERANCE, creepShare: knownCreep ?? USUAL_TOLERANCE.creepShare };
  const balance = fitBalance(observationsOf(posed), accelerometerSoFar(posed)!, tolerance);
  if (!balance) throw new Error(`seed ${seed}: no fit`);
  loadErrors(bench, balance, into);
  const walk = taken(bench, posed, 'bottle', way);
  const outline = generic ? GENERIC_PROFILE_MM : DEFAULT_BOTTLE.innerProfileMm;
  const bottle = fitBottle(
    balance,
    bottleObservationsOf(walk),
    outline,
    generic ? GENERIC_DOUBT : OUTLINE_DOUBT,
    tolerance,
  );
  const truth = bench.bottle;
  const off = (name: Exclude<keyof Figures, 'refused'>, error: number, sd: number) =>
    into[name].push({ error, sd });
  off('base end', bottle.innerProfileMm[0]![0] - truth.innerProfileMm[0]![0], bottle.sd.baseEndMm);
  off('neck end', bottle.innerProfileMm.at(-1)![0] - truth.innerProfileMm.at(-1)![0], bottle.sd.neckEndMm);
  off('empty mass', bottle.emptyMassGrams - truth.emptyMassGrams, bottle.sd.emptyMassGrams);
  off('empty center', bottle.emptyCentreZMm - truth.emptyCentreZMm, bottle.sd.emptyCentreMm);
}

/** Filled to a mark instead of weighed: off by up to 3 mL, alike for both holds of one filling. */
function marksMistake(
  bench: CalibrationBench,
  fill: string | null,
  way: BottleWay | undefined,
): { fillGrams?: number } {
  if (way !== 'two-minutes' || fill === null) return {};
  const share = Math.abs(Math.sin(1000 * bench.bottle.emptyMassGrams + Number(fill)) * 1e4) % 1;
  return { fillGrams: Number(fill) + 6 * share - 3 };
}

function figuresOf(which: Case): Figures {
  const figures: Figures = {
    Fx: [],
    Fz: [],
    M: [],
    'base end': [],
    'neck end': [],
    'empty mass': [],
    'empty center': [],
    refused: 0,
  };
  for (let seed = 1; seed <= which.runs; seed++) {
    try {
      oneRun(seed, which, figures);
    } catch (error) {
      // The bottle's fit refuses holds that do not fit together: no calibration comes of it.
      if (!(error instanceof PlainError)) throw error;
      figures.refused += 1;
    }
  }
  return figures;
}

const percentile95 = (offs: readonly Off[]): number =>
  offs.length === 0
    ? Number.NaN
    : offs.map(({ error }) => Math.abs(error)).sort((a, b) => a - b)[Math.floor(0.95 * offs.length)]!;
const covered = (offs: readonly Off[]): string =>
  `${((100 * offs.filter(({ error, sd }) => Math.abs(error) <= 2 * sd).length) / offs.length).toFixed(1)} %`;
const ofFull = (grams: number): string => `${((100 * grams) / FULL_LOAD_GRAMS).toFixed(3)} %`;

function printMain(which: Case): void {
  const found = figuresOf(which);
  const loads = [...found.Fx, ...found.Fz, ...found.M];
  const rows: [string, string, string, string][] = [
    ['loads, all three', ofFull(percentile95(loads)), covered(loads), 'at most 0.15 %'],
    ...(['Fx', 'Fz', 'M'] as const).map((name): [string, string, string, string] => [
      `  ${name}`,
      ofFull(percentile95(found[name])),
      covered(found[name]),
      '',
    ]),
    ...(['base end', 'neck end'] as const).map((name): [string, string, string, string] => [
      name,
      `${percentile95(found[name]).toFixed(3)} mm`,
      covered(found[name]),
      'at most 0.3 mm',
    ]),
    ['empty mass', `${percentile95(found['empty mass']).toFixed(3)} g`, covered(found['empty mass']), ''],
    [
      'empty center',
      `${percentile95(found['empty center']).toFixed(3)} mm`,
      covered(found['empty center']),
      '',
    ],
  ];
  console.log(`\n  ${which.name}, ${which.runs} calibrations, in simulation`);
  console.log(
    `  ${'figure'.padEnd(18)}${'error at 95 %'.padStart(15)}${'within U (k = 2)'.padStart(18)}   wanted`,
  );
  for (const [name, error, cover, wanted] of rows) {
    console.log(
      `  ${name.padEnd(18)}${error.padStart(15)}${cover.padStart(18)}   ${wanted || (cover ? '93 to 97 % within U' : '')}`,
    );
  }
}

const without = (change: Partial<typeof REALISTIC_ERRORS>): Partial<BenchOptions> => ({
  errors: { ...REALISTIC_ERRORS, ...change },
});

function printParts(cases: readonly Case[]): void {
  console.log('\n  Where it comes from: one error taken away, or changed, at a time');
  console.log(
    `  ${''.padEnd(44)}${'loads'.padStart(9)}${'Fz'.padStart(9)}${'base end'.padStart(11)}${'neck end'.padStart(11)}${'loads in U'.padStart(12)}`,
  );
  for (const which of cases) {
    const found = figuresOf(which);
    const loads = [...found.Fx, ...found.Fz, ...found.M];
    console.log(
      `  ${which.name.padEnd(44)}${ofFull(percentile95(loads)).padStart(9)}${ofFull(percentile95(found.Fz)).padStart(9)}` +
        `${`${percentile95(found['base end']).toFixed(2)} mm`.padStart(11)}${`${percentile95(found['neck end']).toFixed(2)} mm`.padStart(11)}${covered(loads).padStart(12)}${found.refused > 0 ? `   ${found.refused} of ${which.runs} refused` : ''}`,
    );
  }
}

/** 500 runs of each main table, 60 when quick; the parts take a twelfth of it each. */
export function benchCalibration(flags: ReadonlySet<string> = new Set()): void {
  const runs = flags.has('quick') ? 60 : 500;
  const few = Math.ceil(runs / 12);
  const fixtures = 'Masses ±0.1 g, places ±0.5 mm, poses ±3°';
  const creep = USUAL_TOLERANCE.creepShare;
  const percent = `${100 * creep} %`;
  printMain({ name: `${fixtures}; cells that do not creep, and known not to`, runs, knownCreep: 0 });
  printMain({
    name: `${fixtures}; each cell creeps by its own share within ±${percent}, as shipped`,
    runs,
    bench: without({ creepShare: creep }),
  });
  printParts([
    { name: 'all errors', runs: few },
    { name: 'places exact', runs: few, bench: without({ placeMm: 0 }) },
    { name: 'masses exact', runs: few, bench: without({ massGrams: 0 }) },
    { name: 'chip glued in exactly', runs: few, bench: without({ chipTurnDeg: 0, chipSkew: 0 }) },
    { name: 'zeros do not walk', runs: few, bench: { sensors: { zeroDriftGramsPerSqrtMin: 0 } } },
    { name: 'cells without noise', runs: few, bench: { sensors: { cellNoiseScale: 0 } } },
    { name: `cells creep ±${percent}`, runs: few, bench: without({ creepShare: creep }) },
    {
      name: `the same, left out of the model`,
      runs: few,
      bench: without({ creepShare: creep }),
      knownCreep: 0,
    },
    {
      name: `all three creep ${percent}, the worst of it`,
      runs: few,
      bench: { sensors: { creepShare: creep } },
    },
    {
      name: 'creep as in a recording of a cheap cell',
      runs: few,
      bench: { sensors: { creepShare: -0.0065, creepTauSec: 20 } },
    },
    { name: '6 placements instead of 12', runs: few, placements: 6 },
    { name: '24 placements', runs: few, placements: 24 },
    { name: 'two-minute way, generic profile, marks ±3 mL', runs: few, way: 'two-minutes', generic: true },
  ]);
  benchFeedCheck();
  benchTaughtEnds();
}
