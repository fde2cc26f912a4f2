import { describe, expect, it } from 'vitest';
import { convertLoads, createLoadConverter, FLAG, type SensorSample } from '../../src/sensing/loads/loads.ts';
import { exampleCalibration } from '../support/calibrations.ts';

const sample = (over: Partial<SensorSample> = {}): SensorSample => ({
  atSec: 0,
  cells: [60123, -30456, 1200],
  accelerometer: [82, -163, 8241],
  flags: 0,
  missingBefore: 0,
  resetBefore: false,
  ...over,
});

describe('counts to loads', () => {
  it('gives no load at the zero counts, and 1 g along z from the worked accelerometer example', () => {
    const loads = convertLoads(createLoadConverter(exampleCalibration()), sample());
    expect(loads.fxN).toBe(0);
    expect(loads.momentNm).toBe(0);
    // (8241/8192 − 0.005) / 1.001 = 0.99998; (82/8192 − 0.01) / 1.004 = 0.00001
    expect(loads.az).toBeCloseTo(0.99998, 5);
    expect(loads.ax).toBeCloseTo(0.00001, 5);
  });

  it('multiplies each cell into its row: 100,000 counts on each', () => {
    const loads = convertLoads(
      createLoadConverter(exampleCalibration()),
      sample({ cells: [160123, 69544, 101200] }),
    );
    expect(loads.fzN).toBeCloseTo(0.42, 9);
    expect(loads.fxN).toBeCloseTo(0.62, 9);
    expect(loads.momentNm).toBeCloseTo(0.0358, 9);
  });

  it('does not use a flagged cell, and uses the others', () => {
    const converter = createLoadConverter(exampleCalibration());
    convertLoads(converter, sample({ cells: [160123, 69544, 101200] }));
    const loads = convertLoads(converter, sample({ cells: [-8388608, 79544, 101200], flags: FLAG.axial }));
    expect(loads.axialGood).toBe(false);
    expect(loads.transverseGood).toBe(true);
    expect(loads.fxN).toBeCloseTo(0.651, 9);
    expect(loads.fzN).toBeCloseTo(0.42, 9);
  });

  it('turns the accelerometer into the axes of the sleeve by its alignment', () => {
    const calibration = exampleCalibration();
    const turned = {
      ...calibration,
      accelerometer: {
        biasG: [0, 0, 0] as [number, number, number],
        scale: [1, 1, 1] as [number, number, number],
        alignment: [
          [0, 1, 0],
          [-1, 0, 0],
          [0, 0, 1],
        ] as [[number, number, number], [number, number, number], [number, number, number]],
      },
    };
    const loads = convertLoads(createLoadConverter(turned), sample({ accelerometer: [8192, 4096, 0] }));
    expect([loads.ax, loads.ay, loads.az]).toEqual([0.5, -1, 0]);
  });
});
