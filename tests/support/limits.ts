import type { CaptureName } from './captures.ts';

/** Limits for the estimate on the 90 s fixtures; for the whole captures the bench shows the figures beside their baselines. */
export const FIXTURE_LIMITS: Record<
  CaptureName,
  {
    flowRmsMlPerMin: number;
    /** Share of the rms error of the best constant. In the first 90 s of the calm feed the true flow is nearly constant. */
    shareOfBestConstant: number;
    milkRmsMl: number;
    intakeWorstMl: number;
    teatRight: number;
  }
> = {
  calm: { flowRmsMlPerMin: 1.7, shareOfBestConstant: 1, milkRmsMl: 1.5, intakeWorstMl: 1.5, teatRight: 0.98 },
  poured: {
    flowRmsMlPerMin: 3.2,
    shareOfBestConstant: 0.7,
    milkRmsMl: 1.5,
    intakeWorstMl: 1.5,
    teatRight: 0.98,
  },
};
