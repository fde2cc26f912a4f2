/** Loads and felt acceleration in means of four samples, for the baselines: the same 20 Hz as the sensor's own steps. */
import type { Calibration, SensorSample } from '../../src/sensing/index.ts';
import { convertLoads, createLoadConverter } from '../../src/sensing/loads/loads.ts';

export interface LoadBlock {
  atSec: number;
  fxN: number;
  fzN: number;
  momentNm: number;
  ax: number;
  ay: number;
  az: number;
}

const BLOCK = 4;

export function loadBlocks(samples: readonly SensorSample[], calibration: Calibration): LoadBlock[] {
  const converter = createLoadConverter(calibration);
  const blocks: LoadBlock[] = [];
  let sum: LoadBlock = { atSec: 0, fxN: 0, fzN: 0, momentNm: 0, ax: 0, ay: 0, az: 0 };
  samples.forEach((sample, i) => {
    const { fxN, fzN, momentNm, ax, ay, az } = convertLoads(converter, sample);
    sum.fxN += fxN / BLOCK;
    sum.fzN += fzN / BLOCK;
    sum.momentNm += momentNm / BLOCK;
    sum.ax += ax / BLOCK;
    sum.ay += ay / BLOCK;
    sum.az += az / BLOCK;
    if (i % BLOCK !== BLOCK - 1) return;
    blocks.push({ ...sum, atSec: sample.atSec });
    sum = { atSec: 0, fxN: 0, fzN: 0, momentNm: 0, ax: 0, ay: 0, az: 0 };
  });
  return blocks;
}
