/**
 * How well a feed can be known at all: the reference filter, told what its simulator knows of itself (noise, delays, the law of the mouth's line and couple), when the
 * teat was in, when each suck came and whether it gave any milk, when milk was spilt or poured in, and when a suck began to give another amount. Not told: how much a
 * suck gives (unless asked for), how much milk there is, what the forces are. It reads the bytes through the sensor's front (loads, delay line, felt force, geometry), which the tests of loads and geometry hold against others.
 */

import { gramsFromNewtons, MILK_DENSITY_GRAMS_PER_ML } from '../../../src/base/units.ts';
import { createPacing, SHIPPED_PROFILE, stepPacing } from '../../../src/pacing/index.ts';
import type { Calibration, SensorSample } from '../../../src/sensing/index.ts';
import { armAt, balanceReading, createArm, feltX, feltZ } from '../../../src/sensing/loads/balance.ts';
import { addToBlock, BLOCK_SAMPLES } from '../../../src/sensing/loads/block.ts';
import { alignLoads, refillDelayLine } from '../../../src/sensing/loads/delay.ts';
import { convertLoads } from '../../../src/sensing/loads/loads.ts';
import { readBlock } from '../../../src/sensing/loads/reading.ts';
import { createSensor } from '../../../src/sensing/sensor-state.ts';
import { type Truth, truthAt } from '../../support/judge.ts';
import { EARLIER, ReferenceFilter, type ReferenceRow, type World } from './reference-filter.ts';
import { firstSucksGrams, otherSucksAtSec, unitsUntil } from './told.ts';

/** The same start as the product's, so that the two differ only in what they are told. */
const PER_SUCK_GRAMS = { level: 0.24, steep: 0.345 };
const STEEP_DEG = { none: 110, full: 140 };
const SAMPLE_SEC = 0.0125;
const ROW_BLOCKS = 4;
const LEVER_MM = 100;
const SETTLED_SEC = 0.5;
const TOLD_SUCKS = 20;
const TOLD_SD_GRAMS = 0.02;

export interface ReferenceEstimate {
  atSec: number[];
  flowMlPerMin: number[];
  flowSdMlPerMin: number[];
  milkMl: number[];
  /** The first "too fast" by the shipped rules on this estimate; null when none. */
  firstTiltDownSec: number | null;
}

/**
 * @param told whether the filter begins with the true mean of the first twenty sucks (±0.02 g) instead of the product's own beginning
 */
export function referenceEstimate(
  samples: readonly SensorSample[],
  calibration: Calibration,
  truth: Truth,
  world: World,
  told = false,
): ReferenceEstimate {
  const sensor = createSensor(calibration, { refinable: false });
  const { bottle, delay, block } = sensor;
  delay.delaySamples = world.lateSec / SAMPLE_SEC;
  const slosh = new Float64Array(3);
  const arm = createArm();
  const onMouth = truth.onMouth.map(Number);
  const units = unitsUntil(truth);
  const others = otherSucksAtSec(truth);
  let heldMl = 0;
  let filter: ReferenceFilter | null = null;
  let row = emptyRow();
  let unitsBefore = 0;
  let outSec = 10;
  let steepness = 0;
  let rememberedSec = Number.NEGATIVE_INFINITY;
  let startGrams = 0;
  let startCount = 0;
  const out: ReferenceEstimate = {
    atSec: [],
    flowMlPerMin: [],
    flowSdMlPerMin: [],
    milkMl: [],
    firstTiltDownSec: null,
  };
  const pacing = createPacing(SHIPPED_PROFILE, { portionMl: null });
  const recentIntake = { count: 0, atSec: new Float64Array(EARLIER), intakeMl: new Float64Array(EARLIER) };

  samples.forEach((sample, i) => {
    const loads = convertLoads(sensor.converter, sample);
    if (i === 0) {
      refillDelayLine(delay, loads);
      sensor.lastBlockSec = sample.atSec - SAMPLE_SEC;
    }
    loads.stepSec = SAMPLE_SEC;
    alignLoads(delay, loads);
    slosh.set([loads.ax, loads.ay, loads.az]);
    addToBlock(block, loads, slosh);
    if (block.count < BLOCK_SAMPLES) return;
    const reading = readBlock(sensor, sample.atSec);
    const { atSec } = reading;
    const gramsX =
      gramsFromNewtons(reading.fxN) - bottle.emptyMassGrams * feltX(reading, bottle.emptyCentreM);
    const gramsZ =
      gramsFromNewtons(reading.fzN) - bottle.emptyMassGrams * feltZ(reading, bottle.emptyCentreM);
    const inMouth = truthAt(truth, onMouth, atSec) > 0.5;
    if (filter === null) {
      if (inMouth || truthAt(truth, onMouth, atSec + 2) > 0.5) {
        const milk = startGrams / Math.max(1, startCount);
        filter = told
          ? new ReferenceFilter(world, milk, firstSucksGrams(truth, TOLD_SUCKS), TOLD_SD_GRAMS)
          : new ReferenceFilter(world, milk, PER_SUCK_GRAMS.level);
      } else if (atSec > 1) {
        startGrams += (gramsX * reading.ax + gramsZ * reading.az) / reading.inPlane2;
        startCount += 1;
      }
      if (filter === null) return;
    }
    const milk = filter.milkGrams;
    armAt(bottle, Math.max(0, milk) / MILK_DENSITY_GRAMS_PER_ML, reading, arm);
    if (!told && inMouth && filter.intakeGrams < 1) {
      const tilt = (180 / Math.PI) * reading.feltTiltRad;
      const steep = Math.min(1, Math.max(0, (tilt - STEEP_DEG.none) / (STEEP_DEG.full - STEEP_DEG.none)));
      if (steep > steepness) {
        filter.expect((steep - steepness) * (PER_SUCK_GRAMS.steep - PER_SUCK_GRAMS.level));
        steepness = steep;
      }
    }
    outSec = inMouth ? 0 : outSec + reading.stepSec;
    const balanced = Math.abs(arm.arm) >= 0.25;
    row.blocks += 1;
    row.sec += reading.stepSec;
    row.inMouth ||= inMouth;
    if (balanced) {
      row.balanced += 1;
      row.left += balanceReading(bottle, reading, milk) - arm.arm * milk;
      row.perGram += arm.armOfAdded;
      row.perFelt += reading.ax;
      if (inMouth) {
        row.pushX += milk * arm.milkAx - gramsX;
        row.pushZ += milk * arm.milkAz - gramsZ;
      }
    }
    row.gramsX += gramsX;
    row.gramsZ += gramsZ;
    row.milkX += arm.milkAx;
    row.milkZ += arm.milkAz;
    if (row.blocks < ROW_BLOCKS) return;
    const unitsNow = units(atSec);
    const ml = truthAt(truth, truth.milkMl, atSec);
    const anotherPerSuck = others.length > 0 && atSec >= others[0]!;
    if (anotherPerSuck) others.shift();
    // The truth has four rows a second, so a change lasts until its next row.
    const changing = !row.inMouth && Math.abs(ml - heldMl) > 0.05;
    heldMl = ml;
    filter.step({ ...rowOf(row, unitsNow - unitsBefore, outSec), changing, anotherPerSuck });
    unitsBefore = unitsNow;
    row = emptyRow();
    if (atSec - rememberedSec >= 0.37) {
      filter.remember(atSec);
      rememberedSec = atSec;
    }
    let since = 0;
    while (since + 1 < filter.earlierAtSec.length && filter.earlierAtSec[since + 1]! <= atSec - 10)
      since += 1;
    const taken = filter.takenSince(since);
    out.atSec.push(atSec);
    out.flowMlPerMin.push(Math.max(0, (6 * taken.grams) / MILK_DENSITY_GRAMS_PER_ML));
    out.flowSdMlPerMin.push((6 * Math.sqrt(taken.variance)) / MILK_DENSITY_GRAMS_PER_ML);
    out.milkMl.push(Math.max(0, filter.milkGrams) / MILK_DENSITY_GRAMS_PER_ML);
    recentIntake.count = filter.earlierAtSec.length;
    for (let k = 0; k < recentIntake.count; k++) {
      recentIntake.atSec[k] = filter.earlierAtSec[k]!;
      recentIntake.intakeMl[k] = filter.earlierGrams(k) / MILK_DENSITY_GRAMS_PER_ML;
    }
    const { cues } = stepPacing(pacing, {
      atSec,
      stepSec: 0.2,
      intakeMl: filter.intakeGrams / MILK_DENSITY_GRAMS_PER_ML,
      teatInMouth: inMouth,
      tiltDeg: (180 / Math.PI) * reading.tiltRad,
      suckCount: Math.round(unitsNow),
      lastSuckAtSec: null,
      quality: 'good',
      buttonDown: false,
      recentIntake,
    });
    if (out.firstTiltDownSec === null && cues.some(({ kind }) => kind === 'tilt-down'))
      out.firstTiltDownSec = atSec;
  });
  return out;
}

const emptyRow = () => ({
  blocks: 0,
  balanced: 0,
  sec: 0,
  inMouth: false,
  left: 0,
  perGram: 0,
  perFelt: 0,
  pushX: 0,
  pushZ: 0,
  gramsX: 0,
  gramsZ: 0,
  milkX: 0,
  milkZ: 0,
});

function rowOf(
  row: ReturnType<typeof emptyRow>,
  units: number,
  outSec: number,
): Omit<ReferenceRow, 'changing' | 'anotherPerSuck'> {
  const n = Math.max(1, row.balanced);
  return {
    stepSec: row.sec,
    inMouth: row.inMouth,
    units,
    balance:
      row.balanced === 0
        ? null
        : {
            left: row.left / n,
            perGram: row.perGram / n,
            perLineMm: row.pushX / n / LEVER_MM,
            perSideMm: -row.pushZ / n / LEVER_MM,
            perFelt: row.perFelt / n,
          },
    weighing:
      outSec < SETTLED_SEC + row.sec
        ? null
        : {
            gramsX: row.gramsX / row.blocks,
            gramsZ: row.gramsZ / row.blocks,
            milkX: row.milkX / row.blocks,
            milkZ: row.milkZ / row.blocks,
          },
  };
}
