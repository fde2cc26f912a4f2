/** The battery gauge against sums worked by hand from its table. Whether the table fits a real cell has to be measured. */
import { describe, expect, it } from 'vitest';
import {
  CELL_OHMS,
  GAUGE_START,
  isEndNear,
  millivoltsAt,
  minutesLeft,
  percentFull,
  shownPercent,
  stepGauge,
} from '../../src/base/battery-gauge.ts';

describe('how full a cell is', () => {
  it('lies on straight lines between the points of the table', () => {
    // Half-way between 3820 mV (50 %) and 3870 mV (60 %); a fifth of the way from 3000 mV (0 %) to 3450 mV (5 %).
    expect(percentFull(3845, 0)).toBeCloseTo(55, 9);
    expect(percentFull(3090, 0)).toBeCloseTo(1, 9);
    expect(percentFull(4190, 0)).toBe(100);
    expect(percentFull(2999, 0)).toBe(0);
  });

  it('reckons with what the wire takes: 100 mA over 0.3 ohm are 30 mV', () => {
    expect(CELL_OHMS).toBe(0.3);
    expect(percentFull(3790, 100)).toBeCloseTo(50, 9);
    expect(millivoltsAt(50, 100)).toBeCloseTo(3790, 9);
  });

  it.each([0, 2.5, 5, 17, 50, 64, 99, 100])('%d %% is found again from its own millivolts', (percent) => {
    for (const loadMa of [0, 40, 99.4])
      expect(percentFull(millivoltsAt(percent, loadMa), loadMa)).toBeCloseTo(percent, 9);
  });

  it('below nothing is as nothing', () => {
    expect(millivoltsAt(-1, 100)).toBeCloseTo(3000 - 30, 9);
  });

  it('lasts as long as its charge: a quarter of 400 mAh at 100 mA is an hour', () => {
    expect(minutesLeft(25, 100, 400)).toBeCloseTo(60, 9);
    // 320 mAh at 99.4 mA are 193 minutes.
    expect(minutesLeft(100)).toBeCloseTo(193.2, 1);
  });
});

describe('the gauge', () => {
  const gaugeAt = (...millivolts: number[]) => millivolts.reduce(stepGauge, GAUGE_START);

  it('knows nothing before the first reading, and believes none that no cell gives', () => {
    expect([shownPercent(GAUGE_START), isEndNear(GAUGE_START)]).toEqual([null, false]);
    expect(gaugeAt(2499, 4351, 0)).toBe(GAUGE_START);
    expect(gaugeAt(2500).percent).toBe(0);
    expect(gaugeAt(4350).percent).toBe(100);
  });

  it('never rises in use', () => {
    const low = gaugeAt(millivoltsAt(40));
    expect(low.percent).toBeCloseTo(40, 9);
    expect(stepGauge(low, millivoltsAt(60))).toEqual(low);
    expect(stepGauge(low, millivoltsAt(30)).percent).toBeCloseTo(30, 9);
  });

  it('is told in steps of ten, and of five from twenty down', () => {
    const shown = [96, 54, 26, 20.1, 20, 17, 12, 2].map((percent) => shownPercent({ percent }));
    expect(shown).toEqual([100, 50, 30, 20, 20, 15, 10, 0]);
  });

  it('warns from half an hour before the end', () => {
    // 30 min × 99.4 mA / 60 = 49.7 mAh of 320: 15.53 %.
    expect(isEndNear({ percent: 15.5 })).toBe(true);
    expect(isEndNear({ percent: 15.6 })).toBe(false);
  });
});
