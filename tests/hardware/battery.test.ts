import { describe, expect, it } from 'vitest';
import {
  A3_KOHM,
  CELL_OHMS,
  millivoltsAt,
  minutesLeft,
  percentFull,
  RESTING_CELL,
  WARN_MIN,
  warning,
  warningSpreadMin,
} from '../../hardware/budgets/battery.ts';
import { lineBytesPerSec, lineUse, RADIO } from '../../hardware/budgets/line.ts';
import { batteryHours, batteryMa, totalMa } from '../../hardware/budgets/power.ts';
import { SLEEVE_CIRCUIT } from '../../hardware/circuit/sleeve-nets.ts';

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
    expect(minutesLeft(percent)).toBeCloseTo(WARN_MIN, 9);
    expect(percentFull(millivolts, usual)).toBeCloseTo(percent, 6);
    // A full battery by the power budget: the same hours.
    expect(minutesLeft(100) / 60).toBeCloseTo(batteryHours(totalMa('usualMa')), 9);
    const [least, most] = warningSpreadMin();
    expect(least).toBeGreaterThan(15);
    expect(most).toBeLessThan(90);
  });

  it('is wired as it is reckoned', () => {
    const [r2] = SLEEVE_CIRCUIT.parts.filter(({ ref }) => ref === 'R2');
    expect(r2!.ohms).toBe(1000 * A3_KOHM);
    const net = SLEEVE_CIRCUIT.nets.find(({ pins }) => pins.includes('U1.A3'))!;
    expect(net.pins).toContain('R2.2');
    // Behind the switch: nothing flows into a chip that is off.
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
