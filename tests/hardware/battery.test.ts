import { describe, expect, it } from 'vitest';
import { A3_KOHM, warning, warningSpreadMin } from '../../hardware/budgets/battery.ts';
import { lineBytesPerSec, lineUse, RADIO } from '../../hardware/budgets/line.ts';
import { BATTERY, batteryHours, batteryMa, totalMa } from '../../hardware/budgets/power.ts';
import { SLEEVE_CIRCUIT } from '../../hardware/circuit/sleeve-nets.ts';
import {
  CELL_OHMS,
  GAUGE_START,
  IN_USE,
  isEndNear,
  millivoltsAt,
  minutesLeft,
  percentFull,
  RESTING_CELL,
  shownPercent,
  stepGauge,
  WARN_MIN,
} from '../../src/base/battery-gauge.ts';

const usual = batteryMa(totalMa('usualMa'));

describe('the gauge', () => {
  it('goes there and back at every hundredth, at rest and in use', () => {
    for (const load of [0, usual])
      for (let percent = 0; percent <= 100; percent++)
        expect(percentFull(millivoltsAt(percent, load), load)).toBeCloseTo(percent, 6);
    expect(percentFull(4300, 0)).toBe(100);
    expect(percentFull(2500, 0)).toBe(0);
  });

  it('rises with the voltage, and takes what the load pulls down', () => {
    for (let i = 1; i < RESTING_CELL.length; i++) {
      expect(RESTING_CELL[i]![0]).toBeLessThan(RESTING_CELL[i - 1]![0]);
      expect(RESTING_CELL[i]![1]).toBeLessThan(RESTING_CELL[i - 1]![1]);
    }
    // 100 mA through 0.3 Ω are 30 mV.
    expect(CELL_OHMS * 100).toBeCloseTo(30, 9);
    expect(percentFull(3740, 100)).toBeCloseTo(percentFull(3770, 0), 9);
  });

  it('warns half an hour before the end, and not less than a quarter with a reading that is off', () => {
    const { percent, millivolts } = warning();
    expect(minutesLeft(percent, usual)).toBeCloseTo(WARN_MIN, 9);
    expect(percentFull(millivolts, usual)).toBeCloseTo(percent, 6);
    // A full battery by the power budget: the same hours.
    expect(minutesLeft(100, usual) / 60).toBeCloseTo(batteryHours(totalMa('usualMa')), 9);
    const [least, most] = warningSpreadMin();
    expect(least).toBeGreaterThan(15);
    expect(most).toBeLessThan(90);
  });

  it('goes by the power budget', () => {
    expect(IN_USE.loadMa).toBeCloseTo(usual, 1);
    expect(IN_USE.usableMah).toBe(BATTERY.capacityMah * BATTERY.usableFraction);
  });

  it('never rises in use, is shown no finer than it is known, and tells once that the end is near', () => {
    const readings = [4100, 3900, 3950, 3700, 3690, 3675, 3500];
    let gauge = GAUGE_START;
    let last = 101;
    const near = readings.map((millivolts) => {
      gauge = stepGauge(gauge, millivolts);
      expect(gauge.percent!).toBeLessThanOrEqual(last);
      last = gauge.percent!;
      expect(shownPercent(gauge)! % (last > 20 ? 10 : 5)).toBe(0);
      return isEndNear(gauge);
    });
    // By the budget 3683 mV in use is half an hour.
    expect(near).toEqual([false, false, false, false, false, true, true]);
  });

  it('takes no pin without a cell for one', () => {
    for (const millivolts of [0, 1100, 2400, 5000])
      expect(stepGauge(GAUGE_START, millivolts)).toBe(GAUGE_START);
    expect(shownPercent(GAUGE_START)).toBeNull();
    expect(isEndNear(GAUGE_START)).toBe(false);
  });

  it('is wired as it is reckoned', () => {
    const [r2] = SLEEVE_CIRCUIT.parts.filter(({ ref }) => ref === 'R2');
    expect(r2!.ohms).toBe(1000 * A3_KOHM);
    const net = SLEEVE_CIRCUIT.nets.find(({ pins }) => pins.includes('U1.A3'))!;
    expect(net.pins).toContain('R2.2');
    // The divider is behind the switch, so that no current flows into a chip that is off.
    expect(SLEEVE_CIRCUIT.nets.find(({ pins }) => pins.includes('R2.1'))!.pins).toContain('S1.2');
  });
});

describe('the radio', () => {
  it('carries what the sleeve sends, with half of its packets lost', () => {
    const { bytesPerSec } = lineUse()[2]!;
    expect(lineBytesPerSec / bytesPerSec).toBeGreaterThan(2);
    expect(RADIO.oneSlotBytesPerSec / 2 / bytesPerSec).toBeGreaterThan(2);
    expect((bytesPerSec * RADIO.worstDelayMs) / 1000).toBeLessThan(RADIO.bufferBytes);
  });
});
