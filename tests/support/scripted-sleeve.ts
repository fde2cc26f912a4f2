/**
 * A sleeve controlled by the test: upright with the teat out, nearly level in the mouth. Without noise or tremor, and with no more
 * arithmetic than the physics of the sleeve contract (section 1), so that an hour takes a moment.
 */
import type { SleeveModel } from '../../firmware-bridge/links/simulated-link.ts';
import { SAMPLE_FLAGS, sleeveAnswers } from '../../firmware-bridge/wire/index.ts';
import { MILK_DENSITY_GRAMS_PER_ML } from '../../src/base/units.ts';
import type { Calibration } from '../../src/sensing/index.ts';
import { shellLoads } from '../../src/simulation/balance.ts';
import { milkCentreOf, noMilkPlace } from '../../src/simulation/milk-centre.ts';
import { inverse, type Triple, times } from '../../src/simulation/vectors.ts';
import { exampleCalibration } from './calibrations.ts';
import { joined } from './wire.ts';

export interface ScriptedSleeve extends SleeveModel {
  readonly calibration: Calibration;
  /** `resting`: the mouth holds the teat and does not suck. */
  mouth: 'out' | 'sucking' | 'resting';
  milkMl: number;
  mlPerSuck: number;
  buttonDown: boolean;
  /** While false it sends no samples; the chip's clock runs on. */
  sending: boolean;
  /** The real one sends 80. Fewer make a long wait faster. */
  samplesPerSec: number;
  /** Fault flags of the samples. */
  faults: number;
  /** The chip restarts: clock and sequence begin at zero, and the next sample has the reset flag. */
  reset(): void;
}

/** Sizes of an ordinary suck, N, one a second; the gums press the teat away and lift it a little (as in src/simulation). */
const SUCK_N = 0.9;
const PUSH_N = 0.45;
const LIFT_N = 0.15;
const LEVEL_DEG = 95;
const TURN_DEG_PER_SEC = 60;
/** The milk follows the felt force with this lag (sleeve contract, section 1). */
const LIQUID_LAG_SEC = 0.1;

/** Tables of the milk's centre are cached by profile object, so all scripted sleeves share this one. */
const PROFILE_MM = exampleCalibration().bottle.innerProfileMm;

export function createScriptedSleeve(): ScriptedSleeve {
  const calibration = exampleCalibration();
  const { bottle, accelerometer } = calibration;
  const countsOf = inverse(calibration.loadPerCount);
  const centre = milkCentreOf(PROFILE_MM);
  const place = noMilkPlace();
  let sequence = 0;
  let nextSec = 0;
  /** When the chip was last switched on. */
  let bornSec = 0;
  let isFirst = false;
  let tiltDeg = 0;
  let liquidDeg = 0;

  const sleeve: ScriptedSleeve = {
    calibration,
    mouth: 'out',
    milkMl: 90,
    mlPerSuck: 0.2,
    buttonDown: false,
    sending: true,
    samplesPerSec: 80,
    faults: 0,
    advance(untilSec) {
      const frames: Uint8Array[] = [];
      for (; nextSec < untilSec - 1e-9; nextSec += 1 / sleeve.samplesPerSec) {
        step(nextSec, 1 / sleeve.samplesPerSec);
        if (sleeve.sending) frames.push(frameAt(nextSec));
      }
      return joined(frames);
    },
    receive() {},
    reset() {
      bornSec = nextSec;
      sequence = 0;
      isFirst = true;
    },
  };

  const suction = (atSec: number): number => Math.max(0, Math.sin(2 * Math.PI * atSec));

  function step(atSec: number, stepSec: number): void {
    const wantedDeg = sleeve.mouth === 'out' ? 0 : LEVEL_DEG;
    const most = TURN_DEG_PER_SEC * stepSec;
    tiltDeg += Math.min(most, Math.max(-most, wantedDeg - tiltDeg));
    liquidDeg += (tiltDeg - liquidDeg) * (1 - Math.exp(-stepSec / LIQUID_LAG_SEC));
    // The mean of the suction over a second is 1/π.
    if (sleeve.mouth === 'sucking')
      sleeve.milkMl = Math.max(0, sleeve.milkMl - sleeve.mlPerSuck * Math.PI * suction(atSec) * stepSec);
  }

  function frameAt(atSec: number): Uint8Array {
    const tiltRad = (tiltDeg * Math.PI) / 180;
    const feltG: Triple = [Math.sin(tiltRad), 0, Math.cos(tiltRad)];
    centre.locate(sleeve.milkMl, (liquidDeg * Math.PI) / 180, place);
    const inMouth = sleeve.mouth !== 'out' && tiltDeg === LEVEL_DEG;
    const pull = sleeve.mouth === 'sucking' ? SUCK_N * suction(atSec) : 0;
    const mouth = {
      forceXN: inMouth ? LIFT_N : 0,
      forceZN: inMouth ? pull - PUSH_N : 0,
      atXMm: 0,
      atZMm: bottle.teatTipZMm,
    };
    const loads = shellLoads(
      {
        emptyMassGrams: bottle.emptyMassGrams,
        emptyCentreZMm: bottle.emptyCentreZMm,
        milkMassGrams: sleeve.milkMl * MILK_DENSITY_GRAMS_PER_ML,
        milkXMm: place.lateralMm,
        milkZMm: place.zMm,
      },
      feltG,
      [mouth],
    );
    const counts = times(countsOf, loads);
    const flags =
      sleeve.faults |
      (sleeve.buttonDown ? SAMPLE_FLAGS.buttonDown : 0) |
      (isFirst ? SAMPLE_FLAGS.firstAfterReset : 0);
    isFirst = false;
    return sleeveAnswers.sample({
      sequence: sequence++ & 0xffff,
      timeMicros: Math.round((atSec - bornSec) * 1e6) >>> 0,
      cells: counts.map((count, i) => Math.round(count + calibration.zeroCounts[i]!)) as Triple,
      accelerometer: feltG.map((felt, i) =>
        Math.round(8192 * (felt * accelerometer.scale[i]! + accelerometer.biasG[i]!)),
      ) as Triple,
      flags,
    });
  }
  return sleeve;
}
