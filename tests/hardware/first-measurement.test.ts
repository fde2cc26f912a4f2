import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { creepOf, type Recording, restOf, warmthOf } from '../../hardware/first-measurement/recording.ts';
import { recordingFrom } from '../../hardware/first-measurement/reduce.ts';
import { overridesFrom, readResults } from '../../hardware/first-measurement/results.ts';
import { Random } from '../../src/base/random.ts';
import { gramsFromNewtons, newtonsFromGrams } from '../../src/base/units.ts';
import { DEFAULT_PARAMETERS, PLAIN_PARAMETERS } from '../../src/simulation/defaults.ts';
import { drawSleeve } from '../../src/simulation/drawn-sleeve.ts';
import { type Overrides, withOverrides } from '../../src/simulation/parameters.ts';
import { Cells, type SensorParameters } from '../../src/simulation/sensors.ts';
import { type Triple, times } from '../../src/simulation/vectors.ts';

const STEP_SEC = 0.0125;
const sleeve = drawSleeve(new Random(3, 'sleeve'));
const QUIET: Partial<SensorParameters> = {
  cellWhiteGrams: 0,
  cellColouredGrams: 0,
  zeroDriftGramsPerSqrtMin: 0,
};

/** The axial cell of the simulator, as a maker would record it. */
function recorded(
  sensors: Partial<SensorParameters>,
  loadGrams: number,
  lastsSec: number,
  seed = 1,
): Recording {
  const cells = new Cells(sleeve, { ...PLAIN_PARAMETERS.sensors, ...sensors }, seed, STEP_SEC);
  const grams = Array.from({ length: Math.round(lastsSec / STEP_SEC) }, () => {
    const { counts } = cells.read([0, newtonsFromGrams(loadGrams), 0]);
    const off = counts.map((count, i) => count - sleeve.zeroCounts[i]!) as Triple;
    return gramsFromNewtons(times(sleeve.loadPerCount, off)[1]);
  });
  return { perSec: 1 / STEP_SEC, grams };
}

const example = readFileSync(
  new URL('../../hardware/first-measurement/example.json', import.meta.url),
  'utf8',
);

describe('a recording of one cell', () => {
  it('gives back the noise that the simulated cell was made with', () => {
    const made = { cellWhiteGrams: 0.03, cellColouredGrams: 0.06, zeroDriftGramsPerSqrtMin: 0.1 };
    const rests = [1, 2, 3].map((seed) => restOf(recorded(made, 0, 900, seed)));
    const found = rests.map(
      (rest) => overridesFrom({ version: 1, note: '', samplesPerSec: 80, rest }).sensors!,
    );
    const mean = (pick: (one: (typeof found)[number]) => number) =>
      found.reduce((sum, one) => sum + pick(one), 0) / 3;
    // The axial row of the sleeve adds a percent of crosstalk; a straight line over 10 s takes off some of the slow part.
    expect(mean((one) => one.cellWhiteGrams!)).toBeCloseTo(0.03, 2);
    expect(mean((one) => one.cellColouredGrams!) / 0.06).toBeGreaterThan(0.9);
    expect(mean((one) => one.cellColouredGrams!) / 0.06).toBeLessThan(1.1);
    expect(mean((one) => one.zeroDriftGramsPerSqrtMin!) / 0.1).toBeGreaterThan(0.6);
    expect(mean((one) => one.zeroDriftGramsPerSqrtMin!) / 0.1).toBeLessThan(1.5);
  });

  it('gives back creep and warming', () => {
    const creep = creepOf(recorded({ ...QUIET, creepShare: 0.004, creepTauSec: 60 }, 400, 700));
    const found = overridesFrom({ version: 1, note: '', samplesPerSec: 80, creep }).sensors!;
    expect(found.creepShare! / 0.004).toBeCloseTo(1, 1);
    expect(found.creepTauSec! / 60).toBeGreaterThan(0.9);
    expect(found.creepTauSec! / 60).toBeLessThan(1.1);
    const warmth = warmthOf(recorded({ ...QUIET, warmingGrams: 1.2, warmingTauSec: 100 }, 0, 900));
    expect(Math.abs(warmth.zeroMovedGrams)).toBeCloseTo(1.2, 1);
    expect(warmth.tauSec / 100).toBeGreaterThan(0.9);
    expect(warmth.tauSec / 100).toBeLessThan(1.1);
  });

  it('comes from a CSV, and says which row is wrong', () => {
    const { perSec, grams } = recordingFrom('sec,counts\n0,2000\n0.0125,4000\n0.025,6000\n', 2000);
    expect(perSec).toBeCloseTo(80, 6);
    expect(grams).toEqual([1, 2, 3]);
    expect(() => recordingFrom('sec,counts\n0,2000\n1,abc\n', 2000)).toThrow('Row 3');
    expect(() => recordingFrom('time,value\n0,2000\n', 2000)).toThrow('Row 2');
    expect(() => restOf({ perSec: 80, grams: [1, 2, 3] })).toThrow('this needs 300 s');
  });
});

describe('the results file', () => {
  it('is read by the simulator: what was measured is laid over the defaults, the rest stays', () => {
    const measured = overridesFrom(readResults(example, 'example.json'));
    // Of the simulator's own type, so that an unknown name does not compile.
    const overrides: Overrides = measured;
    const { sensors, hand, baby } = withOverrides(DEFAULT_PARAMETERS, overrides);
    expect(Math.hypot(sensors.cellWhiteGrams, sensors.cellColouredGrams)).toBeCloseTo(0.04, 9);
    expect(sensors.creepShare).toBeCloseTo(0.2 / 300.2, 9);
    expect(sensors.warmingGrams).toBeCloseTo(0.9, 9);
    expect(hand.tiltWanderDeg).toBe(2.6);
    expect(baby).toEqual(DEFAULT_PARAMETERS.baby);
    expect(sensors.glitchChance).toBe(DEFAULT_PARAMETERS.sensors.glitchChance);
    for (const room of ['sensors', 'hand'] as const)
      for (const name of Object.keys(measured[room]!)) expect(DEFAULT_PARAMETERS[room]).toHaveProperty(name);
  });

  it('may be half done', () => {
    expect(overridesFrom(readResults('{"version":1,"samplesPerSec":80}', 'x'))).toEqual({});
  });

  it.each([
    ['no JSON', '{', 'not JSON'],
    ['another version', '{"version":2,"samplesPerSec":80}', 'version'],
    ['a name that nothing reads', '{"version":1,"samplesPerSec":80,"creeep":{}}', 'creeep'],
    [
      'a noise of nought',
      '{"version":1,"samplesPerSec":80,"rest":{"sdGrams":0,"lag1":0,"over60SecSdGrams":0}}',
      'rest.sdGrams',
    ],
    ['a text for a number', '{"version":1,"samplesPerSec":"fast"}', 'samplesPerSec'],
  ])('is refused with its place: %s', (_, text, words) => {
    expect(() => readResults(text, 'mine.json')).toThrow(words);
    expect(() => readResults(text, 'mine.json')).toThrow('mine.json');
  });
});

describe('the plan', () => {
  const plan = readFileSync(new URL('../../hardware/FIRST-MEASUREMENT.md', import.meta.url), 'utf8');

  it('names defaults that there are', () => {
    const names = [...plan.matchAll(/`(sensors|hand)\.(\w+)`/g)];
    expect(names.length).toBeGreaterThan(8);
    for (const [, room, name] of names)
      expect([room, name, name! in DEFAULT_PARAMETERS[room as 'sensors' | 'hand']]).toEqual([
        room,
        name,
        true,
      ]);
  });
});
