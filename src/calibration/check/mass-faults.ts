/** Checks from the change of the cells' readings whether the mass was put on, at the right mark, with the typed weight, and with the cells plugged in correctly. */
import { tripleOf } from '../../base/typed.ts';
import { feltDirection } from '../fit/accelerometer.ts';
import type { BalanceFit } from '../fit/balance.ts';
import { fitLine } from '../fit/line-fit.ts';
import { type Rows, timesVector } from '../fit/linear-algebra.ts';
import type { Hold, Triple } from '../walk/hold.ts';
import {
  drawnCountsPerGram,
  drawnResponse,
  LEVER_MM,
  MARKS,
  type MarkName,
  type SleeveDesign,
  WALK_MARKS,
} from '../walk/sleeve-design.ts';
import { CELL_NAMES, type Fault } from './faults.ts';

const GRAMS_PER_OUNCE = 28.349523125;

/** Reference reading of the empty sleeve: reading = zero + across·fx + along·fz, by cell, drawn grams. */
export interface EmptyBaseline {
  design: SleeveDesign;
  zero: Triple;
  across: Triple;
  along: Triple;
}

/** @returns null until the empty sleeve was held upright, level and turned over */
export function emptyBaseline(
  empties: readonly { hold: Hold; felt: Readonly<Triple> }[],
  design: SleeveDesign,
): EmptyBaseline | null {
  const countsPerGram = drawnCountsPerGram(design);
  const rows = empties.map(({ felt }) => [1, felt[0], felt[2]]);
  const cells = [0, 1, 2].map((cell) =>
    fitLine(
      rows,
      empties.map(({ hold }) => hold.cells[cell]! / countsPerGram[cell]!),
    ),
  );
  if (cells.some((found) => found === null)) return null;
  const column = (i: number): Triple => tripleOf(cells.map((found) => found![i]!));
  return { design, zero: column(0), across: column(1), along: column(2) };
}

export interface ToldMass {
  massGrams: number;
  mark: MarkName;
}

/** A load below this counts as no mass, g; above it something lies in or on the sleeve. */
const NOTHING_GRAMS = 25;

/** Cell readings less those of the empty sleeve, in grams by the drawn gains. */
function seenBeyond(hold: Hold, felt: Readonly<Triple>, baseline: EmptyBaseline): number[] {
  const countsPerGram = drawnCountsPerGram(baseline.design);
  return hold.cells.map(
    (counts, i) =>
      counts / countsPerGram[i]! -
      baseline.zero[i]! -
      baseline.across[i]! * felt[0] -
      baseline.along[i]! * felt[2],
  );
}

/** Something is left in a sleeve that should be empty. */
export function leftFault(hold: Hold, felt: Readonly<Triple>, baseline: EmptyBaseline): Fault | null {
  if (Math.hypot(...seenBeyond(hold, felt, baseline)) < NOTHING_GRAMS) return null;
  return {
    code: 'mass-left',
    text: 'The sleeve is not empty: the cells show more than the cup.',
    remedy: 'Take everything out but the inner cup, see that nothing touches it, and repeat the step.',
  };
}

const loadOf = ({ massGrams, mark }: ToldMass, f: Readonly<Triple>): number[] => [
  massGrams * f[0],
  massGrams * f[2],
  (massGrams * (MARKS[mark].zMm * f[0] - MARKS[mark].xMm * f[2])) / LEVER_MM,
];

interface Guess {
  fault: Omit<Fault, 'remedy'> & { remedy?: string };
  change: number[];
}

/**
 * The sleeve's axes are known to some 0.6° before the fit; near level on a side the cells respond with twice the load that this turns in:
 * so large a share of a mass at three standard deviations.
 */
const TURN_DOUBT = 0.07;

/** Largest standard deviation of the change of the three readings by a load, g, from the fit's covariance. */
function responseSd({ covariance }: BalanceFit, load: readonly number[]): number {
  const variances = [0, 1, 2].map((cell) => {
    const at = 3 + 3 * cell;
    return load.reduce(
      (sum, a, i) => sum + a * load.reduce((inner, b, j) => inner + covariance[at + i]![at + j]! * b, 0),
      0,
    );
  });
  return Math.sqrt(Math.max(...variances));
}

const REPEAT = 'Put it right and repeat the step.';

/**
 * Compares what a mass changed with what it should have changed, and with the changes that common mistakes would cause.
 * @param balance the fit so far once it is determined; else the drawn response is used, with wider bounds
 */
export function massFault(
  hold: Hold,
  felt: Readonly<Triple>,
  told: ToldMass,
  baseline: EmptyBaseline,
  balance: BalanceFit | null,
): Fault | null {
  const { design } = baseline;
  const seen = seenBeyond(hold, felt, baseline);
  // A fit from few holds may be less certain than the drawing.
  const load = loadOf(told, felt);
  const drawnDoubt =
    design.doubt * Math.hypot(...timesVector(drawnResponse(design), load)) + TURN_DOUBT * told.massGrams + 3;
  const fitDoubt = balance
    ? 4 * (responseSd(balance, load) + 2 * Math.max(...balance.turnSdRad) * told.massGrams) + 2
    : Infinity;
  const useFit = balance !== null && fitDoubt < drawnDoubt;
  const response = useFit ? balance.response : drawnResponse(design);
  const f = useFit ? feltDirection(balance.accelerometer, hold.accelerometer) : felt;
  const expected = timesVector(response, loadOf(told, f));
  const miss = distance(seen, expected);
  if (miss <= (useFit ? fitDoubt : drawnDoubt)) return null;
  const likely = guessesOf(told, f, response, expected, design)
    .map((guess) => ({ ...guess, miss: distance(seen, guess.change) }))
    .sort((a, b) => a.miss - b.miss)[0]!;
  const room = (useFit ? 0.2 : design.doubt) * Math.hypot(...likely.change) + 3;
  if (likely.miss < room && likely.miss < 0.5 * miss) return { remedy: REPEAT, ...likely.fault };
  return {
    code: 'mass-misfit',
    text: `What the cells show does not fit ${told.massGrams} g at ${MARKS[told.mark].words}: the mass, its place or its weight as typed in is wrong.`,
    remedy:
      'Weigh the mass again, put it on its mark, see that nothing else touches the sleeve, and repeat the step.',
  };
}

/** Common mistakes, each with the change of the cells that it would cause. */
function guessesOf(
  told: ToldMass,
  felt: Readonly<Triple>,
  response: Rows,
  expected: readonly number[],
  design: SleeveDesign,
): Guess[] {
  return [
    ...massGuesses(told, felt, response, expected),
    ...swappedGuesses(expected, drawnCountsPerGram(design)),
    ...reversedGuesses(expected),
  ];
}

function massGuesses(
  { massGrams, mark }: ToldMass,
  felt: Readonly<Triple>,
  response: Rows,
  expected: readonly number[],
): Guess[] {
  const place = MARKS[mark].words;
  return [
    {
      fault: {
        code: 'mass-missing',
        text: `The mass of ${massGrams} g is not on the sleeve: the cells show the empty sleeve.`,
        remedy: `Put it on at ${place} and repeat the step.`,
      },
      change: [0, 0, 0],
    },
    ...WALK_MARKS.filter((other) => other !== mark).map(
      (other): Guess => ({
        fault: {
          code: 'mass-misplaced',
          text: `The mass seems to be at ${MARKS[other].words}, not at ${place}.`,
        },
        change: timesVector(response, loadOf({ massGrams, mark: other }, felt)),
      }),
    ),
    ...[GRAMS_PER_OUNCE, 1 / GRAMS_PER_OUNCE].map(
      (factor): Guess => ({
        fault: {
          code: 'mass-unit',
          text: `The mass seems to be ${(massGrams * factor).toFixed(factor > 1 ? 0 : 1)} g, not ${massGrams} g: ounces and grams were mixed up.`,
          remedy: 'Type in its weight again with the right unit, then repeat the step.',
        },
        change: expected.map((change) => change * factor),
      }),
    ),
  ];
}

const PAIRS_OF_CELLS = [
  [0, 1],
  [0, 2],
  [1, 2],
] as const;

const swappedGuesses = (expected: readonly number[], countsPerGram: readonly number[]): Guess[] =>
  PAIRS_OF_CELLS.map(([a, b]) => {
    const change = [...expected];
    // Counts of one cell, read with the gain of the other.
    const gains = countsPerGram[a]! / countsPerGram[b]!;
    change[a] = expected[b]! / gains;
    change[b] = expected[a]! * gains;
    return {
      fault: {
        code: 'cells-swapped',
        text: `The ${CELL_NAMES[a]} and the ${CELL_NAMES[b]} cell are swapped.`,
        remedy: 'Swap their plugs, then take the poses again; the weights typed in are kept.',
      },
      change,
    };
  });

const reversedGuesses = (expected: readonly number[]): Guess[] =>
  CELL_NAMES.map((name, cell) => ({
    fault: {
      code: 'cell-reversed',
      text: `The ${name} cell counts backwards: pushed, it shows a pull.`,
      remedy: 'Swap its two signal wires, then take the poses again; the weights typed in are kept.',
    },
    change: expected.map((change, i) => (i === cell ? -change : change)),
  }));

const distance = (a: readonly number[], b: readonly number[]): number =>
  Math.hypot(...a.map((entry, i) => entry - b[i]!));
