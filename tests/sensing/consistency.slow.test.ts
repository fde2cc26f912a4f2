/**
 * Whether the stated uncertainty is true. Normalised squared errors over independent moments follow a chi-square distribution if it is (Bar-Shalom, Li &
 * Kirubarajan, Estimation with Applications to Tracking and Navigation, 2001, section 5.4; from memory). Bounds: the table of the npm library simple-statistics.
 *
 * What is tested, and what not: a simulated feed has its own sleeve, calibration, hand and baby, and an error of calibration lasts as long as the feed. So
 * milk is judged at one moment of each of 25 feeds, the ten seconds' intake at four moments half a minute apart. The balance's errors are coloured (mouth, hand,
 * liquid, drift), and the filter answers by a wider noise than it finds: stated deviations of a regular baby are wider than the errors, by design, since those of an irregular one must
 * not be smaller. So the upper bounds are those of chi-square; the lower one only keeps a deviation from saying nothing. Innovations are summed over five seconds before they are squared.
 */
import { chiSquaredDistributionTable, mean } from 'simple-statistics';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { TILT_BIAS } from '../../src/sensing/filter/milk-filter.ts';
import { createSensor, parseCalibration, senseSample } from '../../src/sensing/index.ts';
import type { ScenarioName } from '../../src/simulation/scenarios.ts';
import { samplesOf } from '../support/captures.ts';
import { feedSpan, truthAt } from '../support/judge.ts';
import { simulateCapture } from '../support/simulated-capture.ts';

/** Balance innovations of the sample at hand, over their expected standard deviation. */
const innovations = vi.hoisted((): { filter: object; ratio: number }[] => []);

vi.mock('../../src/sensing/filter/milk-correction.ts', async (original) => {
  const real = await original<typeof import('../../src/sensing/filter/milk-correction.ts')>();
  const correctMilk: typeof real.correctMilk = (filter, h, innovation, variance) => {
    const ratio = real.correctMilk(filter, h, innovation, variance);
    if (h[TILT_BIAS] !== 0) innovations.push({ filter, ratio });
    return ratio;
  };
  return { ...real, correctMilk };
});

const FEEDS = 25;
const SCENARIOS: readonly ScenarioName[] = ['paced', 'let-down', 'tipped-up', 'drowsy'];
const LASTS_SEC = 150;
const MOMENTS_SEC = [50, 80, 110, 140];
/** Five seconds of innovations, one a row of 0.2 s. */
const TOGETHER = 25;
/** Below this mean normalised square a stated deviation is more than three times the error and says too little. */
const SAYS_NOTHING = 0.1;

interface Errors {
  /** Over the stated standard deviation. */
  milk: number[];
  flow: number[];
  everyMilk: number[];
  everyFlow: number[];
  /** Squares of single innovations, and of sums of a hundred over √100. */
  single: number[];
  together: number[];
}

function errorsOf(seedFrom: number): Errors {
  const errors: Errors = { milk: [], flow: [], everyMilk: [], everyFlow: [], single: [], together: [] };
  for (let feed = 0; feed < FEEDS; feed++) {
    const scenario = SCENARIOS[feed % SCENARIOS.length]!;
    const capture = simulateCapture({ scenario, seed: seedFrom + feed, longestSec: LASTS_SEC });
    addErrors(errors, capture);
  }
  return errors;
}

function addErrors(errors: Errors, { bytes, calibration, truth }: ReturnType<typeof simulateCapture>): void {
  const sensor = createSensor(parseCalibration(calibration, 'of the simulated sleeve'), { refinable: false });
  const { firstSec, lastSec } = feedSpan(truth);
  const ratios: number[] = [];
  let due = 0;
  for (const sample of samplesOf(bytes)) {
    innovations.length = 0;
    const moment = senseSample(sensor, sample);
    if (!moment) continue;
    const { weights, filters } = sensor.bank;
    const leading = filters[weights.indexOf(Math.max(...weights))]!;
    const own = innovations.find(({ filter }) => filter === leading);
    if (own && moment.teatInMouth) ratios.push(own.ratio);
    // In the first ten seconds there is no ten seconds' intake yet.
    if (moment.atSec < firstSec + 10 || moment.atSec > lastSec) continue;
    const milk = (moment.milkMl! - truthAt(truth, truth.milkMl, moment.atSec)) / moment.milkSdMl!;
    const flow =
      (moment.flowMlPerMin! - truthAt(truth, truth.flow10MlPerMin, moment.atSec)) / moment.flowSdMlPerMin!;
    errors.everyMilk.push(milk);
    errors.everyFlow.push(flow);
    if (!(moment.atSec >= MOMENTS_SEC[due]!)) continue;
    due += 1;
    errors.flow.push(flow);
    if (due === MOMENTS_SEC.length) errors.milk.push(milk);
    const last = ratios.slice(-TOGETHER);
    errors.together.push(last.reduce((sum, ratio) => sum + ratio, 0) ** 2 / last.length);
  }
  errors.single.push(...ratios.map((ratio) => ratio * ratio));
}

/** Upper 97.5 % bound of the mean of `degrees` squared standard normal numbers. */
const upperBound = (degrees: 25 | 100): number => chiSquaredDistributionTable[degrees][0.025] / degrees;

const square = (ratio: number): number => ratio * ratio;
const shareWithin = (ratios: readonly number[], deviations: number): number =>
  ratios.filter((ratio) => Math.abs(ratio) <= deviations).length / ratios.length;

function expectWithin(squares: readonly number[], degrees: 25 | 100): void {
  expect(squares).toHaveLength(degrees);
  expect(mean(squares)).toBeGreaterThan(SAYS_NOTHING);
  expect(mean(squares)).toBeLessThan(upperBound(degrees));
}

describe('stated standard deviations, over 25 simulated feeds of well-behaved babies', () => {
  const errors = errorsOf(201);

  it('of milk: normalised squared error within the bound', () => {
    expectWithin(errors.milk.map(square), 25);
  });

  it('of the ten seconds’ intake: normalised squared error within the bound', () => {
    expectWithin(errors.flow.map(square), 100);
  });

  it('cover the truth as often as they should', () => {
    // The sleeve contract, section 6: nine of ten rows within two of them.
    expect(shareWithin(errors.everyFlow, 1)).toBeGreaterThan(0.6);
    expect(shareWithin(errors.everyFlow, 2)).toBeGreaterThan(0.9);
    expect(shareWithin(errors.everyMilk, 2)).toBeGreaterThan(0.9);
  });

  it('of the balance: innovations of five seconds together within the bound, one alone below', () => {
    expectWithin(errors.together, 100);
    expect(mean(errors.single)).toBeLessThan(1);
  });

  it('of the ten seconds’ intake: the truth lies on either side alike', () => {
    // Mean of n standard normal numbers: standard error 1/√n.
    expect(Math.abs(mean(errors.flow))).toBeLessThan(2 / Math.sqrt(errors.flow.length));
  });

  afterAll(() => {
    if (!process.env.EBBLINE_SHOW) return;
    const { milk, flow, everyMilk, everyFlow, single, together } = errors;
    const figures = {
      milk: mean(milk.map(square)),
      milkLeans: mean(milk),
      flow: mean(flow.map(square)),
      flowLeans: mean(flow),
      milkWithin: [shareWithin(everyMilk, 1), shareWithin(everyMilk, 2)],
      flowWithin: [shareWithin(everyFlow, 1), shareWithin(everyFlow, 2)],
      single: mean(single),
      together: mean(together),
      bounds: [upperBound(25), upperBound(100)],
    };
    console.log(
      JSON.stringify(figures, (_, value) => (typeof value === 'number' ? Number(value.toFixed(3)) : value)),
    );
  });
});
