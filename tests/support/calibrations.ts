import type { Calibration } from '../../src/sensing/index.ts';

/** The worked example of the sleeve contract, section 4. */
export const exampleCalibration = (): Calibration => ({
  version: 1,
  sleeveId: 'bench-1',
  calibratedAt: '2026-01-05T09:00:00Z',
  zeroCounts: [60123, -30456, 1200],
  loadPerCount: [
    [0, 3.1e-6, 3.1e-6],
    [4.2e-6, 0, 0],
    [0, 2.9e-7, 6.8e-8],
  ],
  accelerometer: { biasG: [0.01, -0.02, 0.005], scale: [1.004, 0.997, 1.001] },
  bottle: {
    emptyMassGrams: 168,
    emptyCentreZMm: 78,
    teatTipZMm: 172,
    innerProfileMm: [
      [10, 24],
      [14, 28.5],
      [105, 27.5],
      [128, 19],
    ],
  },
});
