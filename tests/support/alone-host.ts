/** The sleeve's own estimate, with its C sources compiled for this computer: in the chip's fixed point, and in floating point. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { MILK_DENSITY_GRAMS_PER_ML } from '../../src/base/units.ts';
import { calibrationBlock } from '../../src/calibration/alone/block.ts';
import { createEngine, runEngine } from '../../src/feed/engine.ts';
import type { Calibration, SensedMoment, SensorSample } from '../../src/sensing/index.ts';
import { samplesOf } from './captures.ts';

const SOURCE = fileURLToPath(new URL('./alone-host.c', import.meta.url));
const SAMPLE_BYTES = 20;
const COLUMNS = 9;
const FAULTS = 0x0f;
const GAP_SEC = 0.06;

/** One step of the estimate, 20 a second. */
export interface AloneStep {
  atSec: number;
  /** Null before the bottle was weighed. */
  milkMl: number | null;
  intakeMl: number;
  flowMlPerMin: number;
  inMouth: boolean;
  /** The cue that begins now. */
  cue: 'tilt-down' | 'burp' | null;
}

export interface AloneHost {
  run(arithmetic: 'fixed' | 'float', bytes: Uint8Array, calibration: Calibration): AloneStep[];
  close(): void;
}

/** @returns null if there is no C compiler */
export function aloneHost(): AloneHost | null {
  const folder = mkdtempSync(join(tmpdir(), 'ebbline-alone-'));
  const made = (['fixed', 'float'] as const).every((name) => {
    const flags = name === 'float' ? ['-DALONE_FLOAT'] : [];
    const options = ['-O2', '-Wall', '-Wextra', '-Werror', ...flags, '-o', join(folder, name), SOURCE];
    return spawnSync('gcc', options).status === 0;
  });
  const close = (): void => rmSync(folder, { recursive: true });
  if (!made) {
    close();
    return null;
  }
  return {
    run(arithmetic, bytes, calibration) {
      const samples = samplesOf(bytes);
      const input = Buffer.concat([calibrationBlock(calibration), ...packed(samples)]);
      const { stdout } = spawnSync(join(folder, arithmetic), { input, maxBuffer: 2 ** 30 });
      return stepsOf(stdout, samples);
    },
    close,
  };
}

function packed(samples: readonly SensorSample[]): Buffer[] {
  return samples.map(({ atSec, cells, accelerometer, flags, resetBefore }, i) => {
    const record = Buffer.alloc(SAMPLE_BYTES);
    cells.forEach((count, cell) => {
      record.writeInt32LE(count, 4 * cell);
    });
    accelerometer.forEach((reading, axis) => {
      record.writeInt16LE(reading, 12 + 2 * axis);
    });
    record[18] = flags & FAULTS ? 0 : 1;
    record[19] = i > 0 && (atSec - samples[i - 1]!.atSec > GAP_SEC || resetBefore) ? 1 : 0;
    return record;
  });
}

function stepsOf(out: Buffer, samples: readonly SensorSample[]): AloneStep[] {
  const rows = new Float64Array(out.buffer.slice(out.byteOffset, out.byteOffset + out.length));
  const steps: AloneStep[] = [];
  for (const [i, { atSec }] of samples.entries()) {
    const [isStep, milk, intake, drunk, inMouth, , , cue] = rows.subarray(i * COLUMNS, (i + 1) * COLUMNS);
    if (!isStep) continue;
    steps.push({
      atSec,
      milkMl: milk! < 0 ? null : milk! / MILK_DENSITY_GRAMS_PER_ML,
      intakeMl: intake! / MILK_DENSITY_GRAMS_PER_ML,
      flowMlPerMin: Math.max(0, (6 * drunk!) / MILK_DENSITY_GRAMS_PER_ML),
      inMouth: inMouth === 1,
      cue: cue === 1 ? 'tilt-down' : cue === 2 ? 'burp' : null,
    });
  }
  return steps;
}

/** As the judge takes them. */
export const momentsOf = (steps: readonly AloneStep[]): SensedMoment[] =>
  steps.map(
    ({ atSec, milkMl, intakeMl, flowMlPerMin, inMouth }) =>
      ({ atSec, milkMl, intakeMl, flowMlPerMin, teatInMouth: inMouth, suckCount: 0 }) as SensedMoment,
  );

/** The host's estimate of the same feed. */
export function momentsByHost(feed: { bytes: Uint8Array; calibration: Calibration }): SensedMoment[] {
  const { bytes, calibration } = feed;
  const moments: SensedMoment[] = [];
  runEngine(createEngine({ calibration, portionMl: null, refinable: false }), bytes, ({ moment }) => {
    moments.push(moment);
  });
  return moments;
}

/** @returns the host's first "too fast" in the same feed, s; null: none */
export function cueByHostSec(feed: { bytes: Uint8Array; calibration: Calibration }): number | null {
  const { bytes, calibration } = feed;
  let atSec: number | null = null;
  runEngine(createEngine({ calibration, portionMl: null, refinable: false }), bytes, ({ moment, cues }) => {
    if (cues.some(({ kind }) => kind === 'tilt-down')) atSec ??= moment.atSec;
  });
  return atSec;
}

/** Ideal pace buckets on a known intake (sleeve contract, section 5). @returns when the first one overflows, s; null: never */
export function idealCrossingSec(atSec: readonly number[], intakeMl: readonly number[]): number | null {
  const crossings = [
    [8, 18],
    [14, 6],
  ].map(([rateMlPerMin, depthMl]) => {
    let ahead = 0;
    const at = atSec.findIndex((sec, i) => {
      if (i > 0)
        ahead = Math.max(
          0,
          ahead + intakeMl[i]! - intakeMl[i - 1]! - (rateMlPerMin! / 60) * (sec - atSec[i - 1]!),
        );
      return ahead > depthMl!;
    });
    return at < 0 ? Number.POSITIVE_INFINITY : atSec[at]!;
  });
  const first = Math.min(...crossings);
  return Number.isFinite(first) ? first : null;
}
