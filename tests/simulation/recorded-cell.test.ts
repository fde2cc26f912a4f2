/** The simulated cell beside a real one: never quieter, so that good figures in simulation are not bought with a better cell; never many times worse. */
import { readFileSync } from 'node:fs';
import { linearRegression, mean, median, sampleCorrelation, standardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { Random } from '../../src/base/random.ts';
import { gramsFromNewtons, newtonsFromGrams } from '../../src/base/units.ts';
import { PLAIN_PARAMETERS } from '../../src/simulation/defaults.ts';
import { drawSleeve } from '../../src/simulation/drawn-sleeve.ts';
import { Cells, type SensorParameters } from '../../src/simulation/sensors.ts';
import { type Triple, times } from '../../src/simulation/vectors.ts';
import { HARDSHIPS } from '../support/hardships.ts';

const RECORDED = JSON.parse(
  readFileSync(new URL('../fixtures/recorded-cell.json', import.meta.url), 'utf8'),
) as {
  samplesPerSec: number;
  restSdGrams: number;
  restLag1: number;
  falseFlowSdGramsPerMin: number;
  walkOver60SecSdGrams: number;
  cup: { grams: number; gramsAfter40Sec: number };
};

const STEP_SEC = 0.0125;
const sleeve = drawSleeve(new Random(3, 'sleeve'));

/** Grams on the axial cell under a steady load, in means of seven samples: nearly the recording's rate. */
function grams(sensors: SensorParameters, loadGrams: number, lastsSec: number, seed = 1): number[] {
  const cells = new Cells(sleeve, sensors, seed, STEP_SEC);
  const loads: Triple = [0, newtonsFromGrams(loadGrams), 0];
  const slow: number[] = [];
  let sum = 0;
  for (let i = 1; i <= lastsSec / STEP_SEC; i++) {
    const { counts } = cells.read(loads);
    const off = counts.map((count, cell) => count - sleeve.zeroCounts[cell]!) as Triple;
    sum += gramsFromNewtons(times(sleeve.loadPerCount, off)[1]) / 7;
    if (i % 7 !== 0) continue;
    slow.push(sum);
    sum = 0;
  }
  return slow;
}

const RATE = 80 / 7;
const spells = (column: number[], lastsSec: number, eachSec: number): number[][] => {
  const long = Math.round(lastsSec * RATE);
  const each = Math.round(eachSec * RATE);
  return Array.from({ length: Math.floor((column.length - long) / each) }, (_, k) =>
    column.slice(k * each, k * each + long),
  );
};
const line = (column: number[]) => linearRegression(column.map((gram, i) => [i / RATE, gram]));
const level = (column: number[]): number[] => {
  const { m, b } = line(column);
  return column.map((gram, i) => gram - b - (m * i) / RATE);
};

describe('a simulated cell at rest, beside a recorded one', () => {
  const rest = grams(PLAIN_PARAMETERS.sensors, 0, 600);

  it('is not quieter, nor four times as loud', () => {
    const sd = median(spells(rest, 20, 20).map((spell) => standardDeviation(level(spell))));
    expect(sd).toBeGreaterThan(RECORDED.restSdGrams);
    expect(sd).toBeLessThan(RECORDED.restSdGrams * 4);
  });

  it('has noise of about the same color', () => {
    const lag1 = median(
      spells(rest, 20, 20).map((spell) => {
        const noise = level(spell);
        return sampleCorrelation(noise.slice(1), noise.slice(0, -1));
      }),
    );
    expect(Math.abs(lag1 - RECORDED.restLag1)).toBeLessThan(0.15);
  });

  it('shows no less false flow in 10 s, nor four times as much', () => {
    const flow = standardDeviation(spells(rest, 10, 5).map((spell) => 60 * line(spell).m));
    expect(flow).toBeGreaterThan(RECORDED.falseFlowSdGramsPerMin);
    expect(flow).toBeLessThan(RECORDED.falseFlowSdGramsPerMin * 4);
  });

  it('has a zero that walks no less in a minute, nor four times as far', () => {
    const walks = [1, 2, 3].flatMap((seed) => {
      const means = spells(grams(PLAIN_PARAMETERS.sensors, 0, 600, seed), 1, 1).map((spell) => mean(spell));
      return means.slice(60).map((gram, i) => gram - means[i]!);
    });
    const walk = standardDeviation(walks);
    expect(walk).toBeGreaterThan(RECORDED.walkOver60SecSdGrams);
    expect(walk).toBeLessThan(RECORDED.walkOver60SecSdGrams * 4);
  });
});

describe('creep as recorded', () => {
  it('gives back as much of a cup’s weight in 40 s as the recorded cell did', () => {
    const { grams: cup, gramsAfter40Sec } = RECORDED.cup;
    const sensors = { ...PLAIN_PARAMETERS.sensors, ...HARDSHIPS['creep as recorded'].sensors };
    const quiet = { ...sensors, cellNoiseScale: 0, zeroDriftGramsPerSqrtMin: 0 };
    const shown = grams(quiet, cup, 45);
    const lost = (sec: number): number =>
      shown[Math.round(sec * RATE)]! - shown[Math.round((sec + 40) * RATE)]!;
    // The recording begins some seconds after the cup was put on; how many was not written down.
    expect(lost(0)).toBeGreaterThan((cup - gramsAfter40Sec) * 0.7);
    expect(lost(4)).toBeLessThan((cup - gramsAfter40Sec) * 1.3);
  });
});
