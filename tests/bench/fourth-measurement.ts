/**
 * `npm run bench fourth`: what a fourth measurement would buy in a poured and in a paced feed, in simulation.
 *
 * Collar: a pair of cells in the collar that carries the teat would see what lips and jaw do there; taken as a mouth without line, couple and touch, all else as it is (the best
 * that such a pair could do). Electrodes: the milk's level along the inner cup, read once a second; foam and a film of milk on the wall are taken as an error of 3 mL that
 * lasts a minute, and 2 mL from reading to reading (assumptions, no source).
 */

import { correctMilk } from '../../src/sensing/filter/milk-correction.ts';
import { MILK, STATES } from '../../src/sensing/filter/milk-filter.ts';
import { createSensor, type SensedMoment, senseSample } from '../../src/sensing/index.ts';
import { laidOver, type Overrides } from '../../src/simulation/parameters.ts';
import { REAL_HAND } from '../../src/simulation/real-hand.ts';
import { samplesOf } from '../support/captures.ts';
import { judge, truthAt } from '../support/judge.ts';
import { seededRandom } from '../support/random.ts';
import { type BenchFeed, simulatedFeed } from './bench-feeds.ts';
import { type Cell, fixed, printTable, rootMeanSquare } from './table.ts';

const SEEDS = [21, 22, 23, 24];
const LASTS_SEC = 300;
const FILM_SD_ML = 3;
const FILM_SEC = 60;
const READING_SD_ML = 2;
const GRAMS_PER_ML = 1.03;

const POINT_MOUTH: Overrides = laidOver(
  REAL_HAND['lips behind the tip'](0),
  REAL_HAND['jaw couple'](0),
  REAL_HAND['touched collar'](0),
);

function sensed({ bytes, calibration, truth }: BenchFeed, electrodesSeed: number | null): SensedMoment[] {
  const sensor = createSensor(calibration, { refinable: false });
  const random = seededRandom(electrodesSeed ?? 1);
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const row = new Float64Array(STATES);
  row[MILK] = 1;
  let film = FILM_SD_ML * normal();
  let nextSec = 5;
  const moments: SensedMoment[] = [];
  for (const sample of samplesOf(bytes)) {
    const moment = senseSample(sensor, sample);
    if (moment === null) continue;
    moments.push(moment);
    if (electrodesSeed === null || moment.atSec < nextSec) continue;
    nextSec += 1;
    const keep = Math.exp(-1 / FILM_SEC);
    film = film * keep + FILM_SD_ML * Math.sqrt(1 - keep * keep) * normal();
    const readMl = truthAt(truth, truth.milkMl, moment.atSec) + film + READING_SD_ML * normal();
    // The film's error stays the same for a minute, so reading each second tells no more than reading once a minute.
    const variance = (FILM_SD_ML ** 2 * FILM_SEC + READING_SD_ML ** 2) * GRAMS_PER_ML ** 2;
    for (const filter of sensor.bank.filters)
      correctMilk(filter, row, readMl * GRAMS_PER_ML - filter.x[MILK]!, variance);
  }
  return moments;
}

export function benchFourthMeasurement(): void {
  const rows = (['tipped-up', 'paced'] as const).flatMap((scenario): Cell[][] => {
    const score = (overrides: Overrides, electrodes: boolean): [number, number] => {
      const judged = SEEDS.map((seed) => {
        const feed = simulatedFeed(scenario, scenario, seed, overrides, LASTS_SEC);
        return judge(sensed(feed, electrodes ? seed : null), feed.truth);
      });
      return [
        rootMeanSquare(judged.map(({ flowRmsMlPerMin }) => flowRmsMlPerMin)),
        rootMeanSquare(judged.map(({ milkRmsMl }) => milkRmsMl)),
      ];
    };
    const ways = [
      ['as it is', score({}, false)],
      ['cells in the collar', score(POINT_MOUTH, false)],
      ['electrodes for the level', score({}, true)],
    ] as const;
    return ways.map(([name, [flow, milk]]) => [
      scenario,
      name,
      fixed(flow),
      fixed(flow / ways[0][1][0]),
      fixed(milk),
      fixed(milk / ways[0][1][1]),
    ]);
  });
  printTable(
    'A fourth measurement: live flow and milk, rms',
    ['feed', 'measured', 'flow, mL/min', '÷ as it is', 'milk, mL', '÷ as it is'],
    rows,
    [`Seeds ${SEEDS.join(', ')}, ${LASTS_SEC} s each; assumptions in tests/bench/fourth-measurement.ts.`],
  );
}
