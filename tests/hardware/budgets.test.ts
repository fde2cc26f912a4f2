import { describe, expect, it } from 'vitest';
import { ratedN, supportStiffnessNPerMm } from '../../hardware/budgets/cells.ts';
import {
  type Carried,
  carried,
  cellForces,
  HOLDS,
  type Hold,
  MOUTHS,
  NO_MOUTH,
  specificForce,
  worstForces,
} from '../../hardware/budgets/holds.ts';
import { lineBytesPerSec, lineUse, onLineMs } from '../../hardware/budgets/line.ts';
import {
  BATTERY,
  batteryHours,
  batteryMa,
  CONSUMERS,
  minutesAfterSupplyLow,
  totalMa,
  warmsByK,
} from '../../hardware/budgets/power.ts';
import {
  BUTTON_CELL,
  bridgeNoiseNv,
  cellNoise,
  countNv,
  fullScaleMv,
  gramsPerCount,
  milkNoiseGrams,
  misplacedGrams,
} from '../../hardware/budgets/resolution.ts';
import {
  axialGrams,
  balanceGrams,
  bucklingMargins,
  bypassShares,
  LINKS,
  linkForcesN,
  linkStrays,
  STRAIGHT_HOLD,
  sideOnCellGrams,
} from '../../hardware/budgets/stray.ts';
import {
  alongErrorG,
  BEHIND_BOTTLE_MM,
  feltErrorG,
  TURN_RAD_PER_S2,
  turningErrors,
} from '../../hardware/budgets/turning.ts';
import { BOTTLE, PLACES, STOP_GAP_MM, WIRE } from '../../hardware/design.ts';
import { STANDARD_GRAVITY_MPS2 } from '../../src/base/units.ts';

const CUP: Carried = { massGrams: 32, centreZMm: 40 };
const full = carried(CUP, BOTTLE.fullMl);
const half = carried(CUP, BOTTLE.fullMl / 2);
const LEVEL: Hold = { name: 'level', tiltDeg: 90, rollDeg: 0 };
const UPRIGHT: Hold = { name: 'upright', tiltDeg: 0, rollDeg: 0 };

describe('forces on the cells', () => {
  it('has the specific force of the sleeve contract, section 1', () => {
    const near = (hold: Hold, expected: number[]) =>
      specificForce(hold).forEach((v, i) => {
        expect(v).toBeCloseTo(expected[i]!, 12);
      });
    near(UPRIGHT, [0, 0, 1]);
    near(LEVEL, [1, 0, 0]);
    near({ name: '', tiltDeg: 180, rollDeg: 0 }, [0, 0, -1]);
    near({ name: '', tiltDeg: 90, rollDeg: 90 }, [0, 1, 0]);
  });

  it('carries the weight on the axial cell when upright', () => {
    const { axialN, frontN, rearN } = cellForces({ massGrams: 400, centreZMm: 70 }, UPRIGHT);
    expect(axialN).toBeCloseTo(0.4 * STANDARD_GRAVITY_MPS2, 12);
    expect(frontN).toBeCloseTo(0, 12);
    expect(rearN).toBeCloseTo(0, 12);
  });

  it('is a beam on two supports when level', () => {
    // 100 g half way between the cells: half each. At the front cell: all on it.
    const middle = (PLACES.frontZMm + PLACES.rearZMm) / 2;
    expect(cellForces({ massGrams: 100, centreZMm: middle }, LEVEL).frontN).toBeCloseTo(0.490333, 5);
    expect(cellForces({ massGrams: 100, centreZMm: PLACES.frontZMm }, LEVEL).rearN).toBeCloseTo(0, 12);
    // 2 N pressing down on the tip, 84 mm in front of the front cell: by levers 2·170/86 = 3.953 N more in front.
    const pressed = cellForces({ massGrams: 0, centreZMm: 0 }, LEVEL, { xN: -2, yN: 0, zN: 0 });
    expect(pressed.frontN).toBeCloseTo((2 * (172 - 2)) / 86, 9);
    expect(pressed.rearN).toBeCloseTo(2 - (2 * 170) / 86, 9);
  });

  it('fulfills Fx, Fz and M of the sleeve contract in every hold with every mouth', () => {
    for (const hold of HOLDS)
      for (const { mouth } of MOUTHS) {
        const f = specificForce(hold);
        const cells = cellForces(full, hold, mouth);
        const weight = (full.massGrams / 1000) * STANDARD_GRAVITY_MPS2;
        expect(cells.frontN + cells.rearN).toBeCloseTo(weight * f[0] - mouth.xN, 9);
        expect(cells.axialN).toBeCloseTo(weight * f[2] - mouth.zN, 9);
        expect(cells.frontN * PLACES.frontZMm + cells.rearN * PLACES.rearZMm).toBeCloseTo(
          weight * f[0] * full.centreZMm - mouth.xN * BOTTLE.teatTipZMm,
          6,
        );
      }
  });

  it('stays under the rated load in every hold, with room', () => {
    for (const hold of HOLDS) {
      const { axialN, frontN, rearN } = worstForces(full, hold);
      for (const force of [axialN, frontN, rearN]) expect(Math.abs(force)).toBeLessThan(ratedN / 1.3);
    }
  });

  it('keeps off the stop pins in every hold', () => {
    const k = supportStiffnessNPerMm();
    const straight = cellForces(half, STRAIGHT_HOLD);
    for (const hold of HOLDS)
      for (const { mouth } of MOUTHS) {
        const now = cellForces(full, hold, mouth);
        const z = (now.axialN - straight.axialN) / k;
        for (const cell of ['frontN', 'rearN'] as const)
          expect(Math.hypot(z, (now[cell] - straight[cell]) / k)).toBeLessThan(STOP_GAP_MM / 2);
      }
  });
});

describe('loads that miss the cells', () => {
  const side: Hold = { name: 'level', tiltDeg: 90, rollDeg: 45 };

  it('balances side force, yaw and roll on three links', () => {
    const mouth = { xN: 0, yN: 1.5, zN: 0 };
    const forces = linkForcesN(full, side, mouth);
    const weightY = (full.massGrams / 1000) * STANDARD_GRAVITY_MPS2 * Math.SQRT1_2;
    const sum = (by: (i: number) => number) => forces.reduce((total, force, i) => total + force * by(i), 0);
    expect(sum(() => 1)).toBeCloseTo(weightY - 1.5, 9);
    expect(sum((i) => LINKS[i]!.zMm)).toBeCloseTo(weightY * full.centreZMm - 1.5 * BOTTLE.teatTipZMm, 6);
    expect(sum((i) => LINKS[i]!.xMm)).toBeCloseTo(0, 9);
  });

  it('costs less than 0.3 g of milk for full side load, level, whatever the mouth does', () => {
    for (const rollDeg of [45, -45])
      for (const { mouth } of MOUTHS) {
        const strays = linkStrays(full, half, { ...side, rollDeg }, mouth);
        expect(Math.abs(balanceGrams(strays))).toBeLessThan(0.3);
        expect(sideOnCellGrams(full, { ...side, rollDeg }, mouth)).toBeLessThan(0.3);
      }
  });

  it('costs less than 0.3 g when weighing with the nipple out, in every hold', () => {
    for (const hold of HOLDS)
      expect(Math.abs(axialGrams(linkStrays(full, half, hold, NO_MOUTH)))).toBeLessThan(0.3);
  });

  it('costs nothing without side load', () => {
    for (const { mouth } of MOUTHS)
      expect(balanceGrams(linkStrays(full, half, LEVEL, mouth))).toBeCloseTo(0, 12);
  });

  it('grows with the fourth power of the wire for what bends, and leaves cells at least 95 % of the load', () => {
    const { x, z } = bypassShares();
    expect(x).toBeLessThan(0.05);
    expect(z).toBeLessThan(0.05);
    // By hand: strut Ø 0.4 × 16.5 mm, 12·200 000·1.2566·10⁻³/4492 = 0.6714 N/mm; two of them and the links, Ø 0.45 mm, beside one cell.
    const strut = 0.6714;
    const linkSum = LINKS.reduce((sum, l) => sum + (12 * 200_000 * 2.0129e-3) / l.lengthMm ** 3, 0);
    expect(z).toBeCloseTo((2 * strut + linkSum) / supportStiffnessNPerMm(), 4);
  });

  it('does not buckle: links at roll 45°, struts at rated load', () => {
    const { link, strut } = bucklingMargins(full, side, NO_MOUTH, ratedN);
    expect(link).toBeGreaterThan(3);
    expect(strut).toBeGreaterThan(3);
    expect(WIRE.tensileStrengthMPa).toBeGreaterThan(1000);
  });
});

describe('resolution', () => {
  it('has the full scale of the HX711 datasheet: ±20 mV at 5 V and gain 128, ±40 mV at 64, ±80 mV at 32', () => {
    // 0.5·5 V/128 = 19.53 mV; the datasheet rounds to 20.
    expect(fullScaleMv(5, 128)).toBeCloseTo(19.53, 2);
    expect(Math.round(fullScaleMv(5, 128) / 5) * 5).toBe(20);
    expect(Math.round(fullScaleMv(5, 64) / 5) * 5).toBe(40);
    expect(Math.round(fullScaleMv(5, 32) / 5) * 5).toBe(80);
  });

  it('weighs a count', () => {
    // 4.3 V: ±16.797 mV over 2²³ counts = 2.0023 nV; 4.3 mV for 1000 g, so 0.4657 mg.
    expect(countNv()).toBeCloseTo(2.0023, 3);
    expect(gramsPerCount() * 1000).toBeCloseTo(0.4657, 3);
    // As newtons it is of the order of the calibration in the sleeve contract, section 4 (3 to 4 µN a count).
    const microNewtons = gramsPerCount() * STANDARD_GRAVITY_MPS2 * 1000;
    expect(microNewtons).toBeGreaterThan(3);
    expect(microNewtons).toBeLessThan(6);
  });

  it('adds the thermal noise of the bridge', () => {
    // 1 kΩ at 300 K: 4.07 nV/√Hz, times √40 Hz = 25.7 nV.
    expect(bridgeNoiseNv()).toBeCloseTo(25.7, 1);
    expect(cellNoise().counts).toBeCloseTo(Math.hypot(90, 25.7) / 2.0023, 1);
    expect(cellNoise().grams).toBeCloseTo(0.0218, 3);
    expect(milkNoiseGrams(80)).toBeCloseTo(milkNoiseGrams(1) / Math.sqrt(80), 12);
    // Five times the load at the same output: five times the noise in grams, the same in counts.
    expect(cellNoise(BUTTON_CELL).grams / cellNoise().grams).toBeCloseTo(5, 9);
    expect(cellNoise(BUTTON_CELL).counts).toBe(cellNoise().counts);
    // The noise of one reading is far below a milliliter.
    expect(milkNoiseGrams(1)).toBeLessThan(0.1);
  });

  it('finds the cost of a misplaced cell by moving the cell', () => {
    const forces = cellForces(full, LEVEL);
    const lever = BOTTLE.teatTipZMm - BOTTLE.milkCentreZMm;
    const about = (frontZ: number, rearZ: number) =>
      forces.frontN * (BOTTLE.teatTipZMm - frontZ) + forces.rearN * (BOTTLE.teatTipZMm - rearZ);
    const moved =
      (about(PLACES.frontZMm - 1, PLACES.rearZMm) - about(PLACES.frontZMm, PLACES.rearZMm)) / lever;
    expect(misplacedGrams('front cell', 1, full, LEVEL)).toBeCloseTo(
      (moved / STANDARD_GRAVITY_MPS2) * 1000,
      9,
    );
    expect(misplacedGrams('rear cell', 2, full, LEVEL)).toBeCloseTo(
      2 * misplacedGrams('rear cell', 1, full, LEVEL),
      12,
    );
  });
});

describe('power', () => {
  it('adds up and goes through the booster', () => {
    expect(totalMa('usualMa')).toBeCloseTo(7.2 + 4.5 + 12.9 + 3 + 3.8 + 0.9 + 0.2 + 30, 9);
    // 60 mA at 5 V is 300 mW; at 85 % and 3.7 V 95.4 mA.
    expect(batteryMa(60)).toBeCloseTo(95.39, 2);
    expect(batteryHours(60)).toBeCloseTo((400 * 0.8) / 95.39, 2);
    for (const each of CONSUMERS) expect(each.greatestMa).toBeGreaterThanOrEqual(each.usualMa);
  });

  it('hardly warms its skin: watts over area and film', () => {
    // 0.39 W over 0.03 m² at 8 W/(m²·K): 1.6 K. By the greatest current, in a room of 30 °C, far from 43 °C.
    expect(warmsByK(62.5)).toBeCloseTo((62.5 * 5) / 1000 / 0.85 / 0.24, 2);
    expect(30 + warmsByK(totalMa('greatestMa'))).toBeLessThan(43);
  });

  it('lasts a day of feeds: eight of 20 minutes (8 to 12 feeds a day: CDC)', () => {
    expect(batteryHours(totalMa('usualMa')) * 60).toBeGreaterThan(8 * 20);
  });

  it('takes no more than the pouch may give, and leaves minutes after "supply low"', () => {
    // One time its capacity an hour: usual limit of such pouches, from memory.
    expect(batteryMa(totalMa('greatestMa'))).toBeLessThan(BATTERY.capacityMah);
    expect(minutesAfterSupplyLow(totalMa('usualMa'))).toBeGreaterThan(2);
  });
});

describe('turning', () => {
  /** Specific force along the bottle's own x and z at a place on it, from its path while the tilt is ½·α·t², by differences. */
  function feltAt([xMm, zMm]: readonly [number, number], alpha: number, atSec: number) {
    const h = 1e-3;
    const place = (sec: number) => {
      const tilt = 0.3 + 0.5 * alpha * sec * sec;
      // The axes as the tilt grows: z leans away from up, and x rises (sleeve contract, section 1).
      const ez = [-Math.sin(tilt), Math.cos(tilt)];
      const ex = [Math.cos(tilt), Math.sin(tilt)];
      return [0, 1].map((k) => (xMm * ex[k]! + zMm * ez[k]!) / 1000);
    };
    const [before, now, after] = [atSec - h, atSec, atSec + h].map(place) as [number[], number[], number[]];
    const moved = [0, 1].map((k) => (before[k]! - 2 * now[k]! + after[k]!) / (h * h));
    const felt = [moved[0]!, moved[1]! + STANDARD_GRAVITY_MPS2];
    const tilt = 0.3 + 0.5 * alpha * atSec * atSec;
    const along = (axis: readonly number[]) =>
      (felt[0]! * axis[0]! + felt[1]! * axis[1]!) / STANDARD_GRAVITY_MPS2;
    return { fx: along([Math.cos(tilt), Math.sin(tilt)]), fz: along([-Math.sin(tilt), Math.cos(tilt)]) };
  }

  it('is α·Δz/g0 across and α·x/g0 along: the same from second differences of a path', () => {
    const axis = feltAt([0, 66], TURN_RAD_PER_S2, 0);
    const behind = feltAt([BEHIND_BOTTLE_MM[0], BEHIND_BOTTLE_MM[2]], TURN_RAD_PER_S2, 0);
    expect(Math.abs(axis.fx - behind.fx)).toBeCloseTo(feltErrorG(66 - BEHIND_BOTTLE_MM[2]), 6);
    expect(Math.abs(axis.fz - behind.fz)).toBeCloseTo(alongErrorG(BEHIND_BOTTLE_MM), 6);
    // 81.5 mm at 1 rad/s²: 0.0815/9.80665 = 8.31 mg.
    expect(feltErrorG(81.5)).toBeCloseTo(0.00831, 5);
  });

  it('costs grams behind the bottle, and a fraction of one where the accelerometer is', () => {
    const errors = turningErrors(CUP);
    const grams = (pick: 'behindG' | 'hereG') =>
      errors.reduce((sum, each) => sum + each.massGrams * each[pick], 0);
    expect(errors.reduce((sum, { massGrams }) => sum + massGrams, 0)).toBeCloseTo(full.massGrams, 6);
    expect(grams('behindG')).toBeGreaterThan(3);
    expect(grams('hereG')).toBeLessThan(0.5);
    for (const { behindG, hereG } of errors) expect(hereG).toBeLessThan(behindG / 5);
  });
});

describe('the serial line', () => {
  it('carries a SAMPLE of 31 bytes and a MOTION of 15, 80 times a second, in a third of its time', () => {
    expect(lineUse().map(({ bytes }) => bytes)).toEqual([31, 15, 46]);
    const both = lineUse()[2]!;
    expect(both.bytesPerSec).toBe(3680);
    expect(lineBytesPerSec).toBe(11_520);
    expect(both.bytesPerSec).toBeLessThan(0.4 * lineBytesPerSec);
    // The time on the line of a motion before its sample is at most an eighth of a period.
    expect(onLineMs(15)).toBeLessThan(12.5 / 8);
  });
});
