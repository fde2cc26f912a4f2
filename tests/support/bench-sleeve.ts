/** A sleeve on the calibration bench, as a device on a line: a person holds it in a pose, and it sends its readings. */
import type { Surroundings, SurroundingsSource } from '../../firmware-bridge/links/emulated-sleeve.ts';
import type { SleeveModel } from '../../firmware-bridge/links/simulated-link.ts';
import { sleeveAnswers } from '../../firmware-bridge/wire/index.ts';
import { askedDirection, type Step } from '../../src/calibration/walk/plan.ts';
import { MARKS } from '../../src/calibration/walk/sleeve-design.ts';
import type { WalkState } from '../../src/calibration/walk/walk-state.ts';
import type { BenchLoad, BenchSample } from '../../src/simulation/bench-setting.ts';
import type { CalibrationBench } from '../../src/simulation/calibration-bench.ts';
import { createFakeSleeve, type FakeSleeve } from './fake-sleeve.ts';
import { sampleOf } from './wire.ts';

type Direction = [number, number, number];

/** The person's hands, which hold the sleeve in a pose. */
export class BenchHands implements SurroundingsSource {
  #samples: BenchSample[] = [];
  #from: number | null = null;

  /** Angular velocity shown at rest, °/s: the gyroscope's zero error. */
  readonly restingDps = [0.4, -1.1, 0.2] as const;

  constructor(readonly bench: CalibrationBench) {}

  /** Follows a step; each pose is held near the requested one, and does not move until the next. */
  obey(step: Step, { massesGrams, fillsGrams }: WalkState): void {
    const direction = [...askedDirection(step)] as Direction;
    this.hold(direction, loadOf(step, massesGrams, fillsGrams));
  }

  /** Holds this pose from the next moment on; after `sec` the last readings repeat. */
  hold(direction: Direction, load: BenchLoad, sec = 5): void {
    this.#samples = this.bench.hold(direction, load, sec);
    this.#from = null;
  }

  at(atSec: number): Surroundings {
    this.#from ??= atSec;
    const { cells, accelerometer } = this.sample(Math.floor((atSec - this.#from) * 80));
    return { cells, accelerometer, turningDps: this.restingDps, buttonDown: false };
  }

  sample(index: number): BenchSample {
    return this.#samples[index % this.#samples.length]!;
  }
}

function loadOf(
  step: Step,
  massesGrams: WalkState['massesGrams'],
  fillsGrams: WalkState['fillsGrams'],
): BenchLoad {
  if (step.kind === 'bottle') return { bottleWithGrams: step.fill === null ? 0 : fillsGrams[step.fill]! };
  if (step.kind !== 'pose' || !step.placed) return {};
  const { stack, mark, placement } = step.placed;
  const { xMm, zMm } = MARKS[mark];
  return { masses: [{ stack, grams: massesGrams[stack]!, xMm, zMm, putOn: placement }] };
}

/** The same without a chip: answers by the contract and sends the readings. */
export function createBenchSleeve(hands: BenchHands): FakeSleeve & SleeveModel {
  const sleeve = createFakeSleeve();
  sleeve.samples = false;
  const answer = sleeve.advance;
  let sent = 0;
  sleeve.advance = (untilSec) => {
    for (; (sent + 1) / 80 <= untilSec + 1e-9; sent++) {
      const { cells, accelerometer } = hands.sample(sent);
      sleeve.say(
        sleeveAnswers.sample(
          sampleOf(sent, {
            cells: cells.map(Math.round) as Direction,
            accelerometer: accelerometer.map(Math.round) as Direction,
            flags: sent === 0 ? 0x80 : 0,
          }),
        ),
      );
    }
    return answer(untilSec);
  };
  return sleeve;
}
