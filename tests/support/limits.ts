import type { CaptureName } from './captures.ts';

/** What the estimate must keep to on the 90 s fixtures; on the whole captures the bench shows the figures beside their baselines. */
export const FIXTURE_LIMITS: Record<
  CaptureName,
  {
    flowRmsMlPerMin: number;
    /** Of the rms that the best constant scores. In the first 90 s of the calm feed the true flow is nearly a constant. */
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
