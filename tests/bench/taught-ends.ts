/** What feeds teach about a bottle's ends, over simulated sleeves: how far off they are before and after some feeds. All in simulation. */

import { Random } from '../../src/base/random.ts';
import { learnFromHolds } from '../../src/calibration/fit/learned.ts';
import { historyOf, learnedCalibration, withLesson } from '../../src/calibration/walk/history.ts';
import { type Hold, holdFromSamples } from '../../src/calibration/walk/hold.ts';
import { changedProfile } from '../../src/calibration/walk/profile.ts';
import { type Calibration, parseCalibration } from '../../src/sensing/index.ts';
import { exactCalibration, goodCalibration } from '../../src/simulation/calibration.ts';
import { benchFor } from '../support/calibration-walk.ts';

const SLEEVES = 12;
const FEEDS = 8;
const WATER = 0.9982;
/** At each level of milk a feed sets the bottle down and lets it lean at a shoulder. */
const TILTS_DEG = [0, 25];

/** How far the base end is off after 0 … FEEDS feeds, mm. */
function baseOff(seed: number, misdrawnMm: number): number[] {
  const bench = benchFor(seed);
  const good = goodCalibration(
    exactCalibration(bench.sleeve, bench.bottle, `bench-${seed}`),
    new Random(seed, 'taught ends'),
    1,
  );
  const right = parseCalibration(good, 'of the bench');
  const change = { baseShiftMm: misdrawnMm, neckShiftMm: 0, widerShare: 0 };
  const made: Calibration = {
    ...right,
    bottle: { ...right.bottle, innerProfileMm: changedProfile(right.bottle.innerProfileMm, change) },
    uncertainty: { baseEndMm: 2, neckEndMm: 2 },
  };
  const truthMm = bench.bottle.innerProfileMm[0]![0];
  let history = historyOf([], 'bench', made);
  const off = [made.bottle.innerProfileMm[0]![0] - truthMm];
  for (let feed = 1; feed <= FEEDS; feed++) {
    const now = learnedCalibration(made, history).calibration;
    const lesson = learnFromHolds(now, feedHolds(bench), history.belief ?? undefined, WATER);
    if (lesson)
      history = withLesson(history, made, lesson, { learnedAt: made.calibratedAt, feedId: `${feed}` });
    off.push(learnedCalibration(made, history).calibration.bottle.innerProfileMm[0]![0] - truthMm);
  }
  return off;
}

function feedHolds(bench: ReturnType<typeof benchFor>): Hold[] {
  return [120, 100, 80, 60, 40, 20].flatMap((grams) => {
    bench.pass(180);
    return TILTS_DEG.map((degrees) => {
      const tilt = (degrees * Math.PI) / 180;
      return holdFromSamples(
        bench.hold([Math.sin(tilt), 0, Math.cos(tilt)], { bottleWithGrams: grams }, 1.5),
      );
    });
  });
}

const rms = (values: readonly number[]): string =>
  Math.sqrt(values.reduce((sum, value) => sum + value ** 2, 0) / values.length).toFixed(2);

export function benchTaughtEnds(): void {
  console.log(
    `\n  What ${FEEDS} feeds teach about the base end, ${SLEEVES} sleeves with their zeros walking on, calibration known to ± 2 mm (k = 2); in simulation`,
  );
  for (const misdrawnMm of [0, 1.2, 2]) {
    const runs = Array.from({ length: SLEEVES }, (_, i) => baseOff(i + 1, misdrawnMm));
    const after = [0, 4, 8].map((feeds) => `${rms(runs.map((off) => off[feeds]!))} mm after ${feeds}`);
    console.log(`  drawn ${misdrawnMm} mm wrong: off by ${after.join(', ')} feeds (rms)`);
  }
}
