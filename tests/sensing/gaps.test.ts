/** Silences in a feed: milk drunk meanwhile counts as intake, nothing counts as spilt, no cue comes of it, and the estimate recovers. */
import { describe, expect, it } from 'vitest';
import {
  createScanner,
  encodeMessage,
  MESSAGES,
  type Sample,
  scan,
} from '../../firmware-bridge/wire/index.ts';
import { createEngine, type EngineTick, refineEngine, runEngine } from '../../src/feed/engine.ts';
import { parseCalibration } from '../../src/sensing/index.ts';
import { truthAt } from '../support/judge.ts';
import { runs } from '../support/runs.ts';
import { createScriptedSleeve } from '../support/scripted-sleeve.ts';
import { simulateCapture } from '../support/simulated-capture.ts';

const samplesIn = (bytes: Uint8Array): Sample[] => {
  const samples: Sample[] = [];
  scan(createScanner(), bytes, { sample: (sample) => samples.push(sample) });
  return samples;
};

/** A simulated feed of which the line lost everything from one second to another. */
function feedWithSilence(seed: number, fromSec: number, forSec: number, lastsSec: number) {
  const { bytes, calibration, truth } = simulateCapture({ scenario: 'paced', seed, longestSec: lastsSec });
  const engine = createEngine({ calibration: parseCalibration(calibration, 'of the test'), portionMl: null });
  const ticks: EngineTick[] = [];
  samplesIn(bytes).forEach((sample, i) => {
    if (i / 80 >= fromSec && i / 80 < fromSec + forSec) return;
    runEngine(engine, encodeMessage(MESSAGES.SAMPLE, sample), (tick) => ticks.push(tick));
  });
  return { engine, ticks, truth };
}

describe.each([1, 2, 3].slice(0, runs({ quick: 1, all: 3 })))(
  'a silence while the baby drinks (seed %i)',
  (seed) => {
    it('of 40 s: what was drunk is intake and no spill', () => {
      const { engine, ticks, truth } = feedWithSilence(seed, 60, 40, 175);
      const drunk = truthAt(truth, truth.intakeSoFarMl, 175);
      expect(
        truthAt(truth, truth.intakeSoFarMl, 100) - truthAt(truth, truth.intakeSoFarMl, 60),
      ).toBeGreaterThan(1.5);
      expect(
        ticks.flatMap(({ events }) => events).filter(({ kind }) => kind === 'spill' || kind === 'refill'),
      ).toEqual([]);
      expect(Math.abs(ticks.at(-1)!.moment.intakeMl - drunk)).toBeLessThan(2);
      expect(Math.abs(refineEngine(engine).totals.intakeMl - drunk)).toBeLessThan(2);
    });

    it('of 70 s and of 120 s, which the clock cannot bridge: no cue to lower the hand comes of it', () => {
      for (const forSec of [70, 120]) {
        const { ticks } = feedWithSilence(seed, 50, forSec, 50 + forSec + 60);
        expect(ticks.flatMap(({ cues }) => cues).filter(({ kind }) => kind === 'tilt-down')).toEqual([]);
        const back = ticks.filter(({ moment }) => moment.atSec > 50.1 && moment.atSec < 53);
        expect(back.every(({ moment }) => moment.quality === 'invalid' && moment.reason === 'gap')).toBe(
          true,
        );
        // After a reset nobody knows how long the silence was, so the flow over it is not known either.
        expect(back.every(({ moment }) => moment.flowMlPerMin === null)).toBe(true);
      }
    });
  },
);

describe('a sleeve that comes back standing, with less milk than it left', () => {
  it.each([6, 12, 20, 30])('finds the teat out and the bottle as it is: %i mL less', (lessMl) => {
    const sleeve = createScriptedSleeve();
    const engine = createEngine({ calibration: sleeve.calibration, portionMl: null });
    let tick: EngineTick | null = null;
    let nowSec = 0;
    const run = (seconds: number) => {
      nowSec += seconds;
      const bytes = sleeve.advance(nowSec);
      runEngine(engine, bytes, (next) => {
        tick = next;
      });
    };
    run(5);
    sleeve.mouth = 'sucking';
    run(20);
    sleeve.sending = false;
    sleeve.milkMl -= lessMl;
    sleeve.mouth = 'out';
    run(80);
    sleeve.sending = true;
    run(20);
    const { moment } = tick as unknown as EngineTick;
    expect(moment.teatInMouth).toBe(false);
    expect(Math.abs(moment.milkMl! - sleeve.milkMl)).toBeLessThan(1.5);
    expect(moment.quality).toBe('good');
  });
});
