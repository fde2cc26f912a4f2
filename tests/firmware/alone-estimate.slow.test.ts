/** The sleeve's own estimate, its very C sources on this computer, beside the truth, the host and floating point. */
import { afterAll, describe, expect, it } from 'vitest';
import { calibrationBlock } from '../../src/calibration/alone/block.ts';
import { fitMoments, termsAt } from '../../src/calibration/alone/moments.ts';
import { milkMoments, tabulateMilkCentre } from '../../src/sensing/loads/milk-centre.ts';
import { simulatedFeed } from '../bench/bench-feeds.ts';
import {
  type AloneStep,
  aloneHost,
  idealCrossingSec,
  momentsByHost,
  momentsOf,
} from '../support/alone-host.ts';
import {
  CAPTURE_NAMES,
  type CaptureFixture,
  readFixture,
  readSecond,
  SECOND_SIMULATOR,
} from '../support/captures.ts';
import { judge, truthAt } from '../support/judge.ts';

const host = aloneHost();
afterAll(() => host?.close());

const captures: { name: string; feed: CaptureFixture }[] = [
  ...CAPTURE_NAMES.map((name) => ({ name, feed: readFixture(name) })),
  ...SECOND_SIMULATOR.map((name) => ({ name, feed: readSecond(name) })),
];

describe.skipIf(host === null)('the sleeve’s own estimate', () => {
  it.each(captures)(
    '$name: fixed point is floating point to a fifth of a milliliter, and errs no more in the flow',
    ({ feed }) => {
      const fixed = host!.run('fixed', feed.bytes, feed.calibration);
      const float = host!.run('float', feed.bytes, feed.calibration);
      const known = fixed.filter(({ milkMl }) => milkMl !== null).length;
      expect(known).toBeGreaterThan(0.9 * fixed.length);
      expect(float).toHaveLength(fixed.length);
      const off = fixed.map(({ milkMl }, i) => (milkMl ?? 0) - (float[i]!.milkMl ?? 0));
      expect(Math.sqrt(off.reduce((sum, v) => sum + v * v, 0) / off.length)).toBeLessThan(0.2);
      // A rounded force may cross a threshold a step sooner, so the test compares errors against the truth, not single steps.
      const error = (steps: readonly AloneStep[]) => judge(momentsOf(steps), feed.truth).flowRmsMlPerMin;
      expect(error(fixed) - error(float)).toBeLessThan(0.1);
    },
  );

  it('errs in the flow at most twice as much as the host, over all captures', () => {
    const ratios = captures.map(({ feed }) => {
      const own = judge(momentsOf(host!.run('fixed', feed.bytes, feed.calibration)), feed.truth);
      const beside = judge(momentsByHost(feed), feed.truth);
      // Better than stating the feed's mean all the time.
      expect(own.flowRmsMlPerMin).toBeLessThan(own.bestConstantRmsMlPerMin);
      expect(own.teatRight).toBeGreaterThan(0.97);
      return own.flowRmsMlPerMin / beside.flowRmsMlPerMin;
    });
    const mean = Math.exp(ratios.reduce((sum, ratio) => sum + Math.log(ratio), 0) / ratios.length);
    expect(mean).toBeLessThan(2);
  });

  it('cues near the moment at which the true milk was too much, and not before a paced feed’s end', () => {
    const apartSec: number[] = [];
    for (const { feed } of captures) {
      const ideal = idealCrossingSec(feed.truth.atSec, feed.truth.intakeSoFarMl);
      const cues = host!
        .run('fixed', feed.bytes, feed.calibration)
        .filter(({ cue }) => cue === 'tilt-down')
        .map(({ atSec }) => atSec);
      if (ideal === null) expect(cues).toEqual([]);
      else apartSec.push(Math.abs(cues[0]! - ideal));
    }
    expect(Math.max(...apartSec)).toBeLessThan(12);
    expect(apartSec.sort((a, b) => a - b)[Math.floor(apartSec.length / 2)]).toBeLessThan(6);
    // With the last seed the bottle is pushed for 4 s, from 23 s on, by as much as 14 g at the lever.
    for (const seed of [1, 2, 3, 137]) {
      const { bytes, calibration } = simulatedFeed('paced', 'paced', seed);
      expect(host!.run('fixed', bytes, calibration).some(({ cue }) => cue === 'tilt-down')).toBe(false);
    }
  });

  it('counts milk that is found later than 10 s after it was drunk: in hurried feeds the cue is not 20 s late', () => {
    const lateSec = [201, 207, 209].map((seed) => {
      const { bytes, calibration, truth } = simulatedFeed('fast', 'hurried-start', seed, {}, 90);
      const cue = host!.run('fixed', bytes, calibration).find((step) => step.cue === 'tilt-down');
      return cue!.atSec - idealCrossingSec(truth.atSec, truth.intakeSoFarMl)!;
    });
    expect(Math.max(...lateSec)).toBeLessThan(20);
  });

  it('counts no bottle that is taken out or changed as milk drunk', () => {
    const { bytes, calibration, truth } = simulatedFeed('second bottle', 'second-bottle', 21);
    const drunk = host!.run('fixed', bytes, calibration).at(-1)!.intakeMl;
    expect(Math.abs(drunk - truthAt(truth, truth.intakeSoFarMl, truth.atSec.at(-1)!))).toBeLessThan(6);
  });
});

it('has the milk’s moments within a gram of the slices, over all holds of a feed', () => {
  const { calibration } = captures[0]!.feed;
  const profile = calibration.bottle.innerProfileMm;
  const fit = fitMoments(profile, 0.1);
  const table = tabulateMilkCentre(profile);
  const moments = { zMlM: 0, xMlM: 0 };
  const errors: number[] = [];
  for (let deg = 50; deg <= 170; deg += 3)
    for (let ml = 5; ml < fit.capacityMl; ml += 5) {
      const tilt = (deg * Math.PI) / 180;
      milkMoments(table, ml, tilt, moments);
      const terms = termsAt(ml / fit.capacityMl, tilt);
      const sum = (of: readonly number[]) => terms.reduce((total, term, i) => total + term * of[i]!, 0);
      const z = sum(fit.z) - moments.zMlM / 0.1;
      const x = sum(fit.x) * Math.sin(tilt) - moments.xMlM / 0.1;
      errors.push(-Math.sin(tilt) * z + Math.cos(tilt) * x);
    }
  expect(Math.max(...errors.map(Math.abs))).toBeLessThan(1.3);
  expect(Math.sqrt(errors.reduce((total, e) => total + e * e, 0) / errors.length)).toBeLessThan(0.3);
});

it('refuses a calibration that the chip’s integers cannot hold', () => {
  const { calibration } = captures[0]!.feed;
  const loadPerCount = calibration.loadPerCount.map((row) => row.map((v) => v * 100)) as never;
  expect(() => calibrationBlock({ ...calibration, loadPerCount })).toThrow(/out of the range of its chip/);
});
