/** The feeds that the bench measures: captures with known truth, and simulated scenarios. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { readCapture } from '../../firmware-bridge/links/capture-file.ts';
import { type Calibration, parseCalibration, readCalibration } from '../../src/sensing/index.ts';
import type { Overrides } from '../../src/simulation/parameters.ts';
import { SCENARIO_NAMES, type ScenarioName } from '../../src/simulation/scenarios.ts';
import { CAPTURE_NAMES, readFixture, readSecond, SECOND_SIMULATOR } from '../support/captures.ts';
import type { Truth } from '../support/judge.ts';
import { simulateCapture } from '../support/simulated-capture.ts';

export interface BenchFeed {
  name: string;
  bytes: Uint8Array;
  calibration: Calibration;
  truth: Truth;
}

const root = fileURLToPath(new URL('../..', import.meta.url));

/** Where the whole captures lie: EBBLINE_CAPTURES, or a folder `captures` in a folder beside this one; null when nowhere. */
export function wholeCapturesFolder(): string | null {
  const given = process.env.EBBLINE_CAPTURES;
  const beside = readdirSync(resolve(root, '..')).map((name) => resolve(root, '..', name, 'captures'));
  const holds = (folder: string): boolean =>
    CAPTURE_NAMES.every((name) => existsSync(join(folder, `${name}.cap.gz`)));
  return (given ? [resolve(given)] : beside).find(holds) ?? null;
}

/** The two captures, whole where they are to be had, else their first 90 s. */
export function capturedFeeds(): { whole: boolean; feeds: BenchFeed[] } {
  const folder = wholeCapturesFolder();
  const feeds = CAPTURE_NAMES.map((name): BenchFeed => {
    if (folder === null) return { name: `${name}, first 90 s`, ...readFixture(name) };
    return readFeed(folder, name);
  });
  return { whole: folder !== null, feeds };
}

/** Feeds of the second simulator: all that lie in a folder `captures2` beside the whole captures, else the fixtures. */
export function secondSimulatorFeeds(): BenchFeed[] {
  const beside = wholeCapturesFolder();
  const folder = beside === null ? null : `${beside}2`;
  if (folder === null || !existsSync(folder)) {
    return SECOND_SIMULATOR.map((name) => ({ name: `${name}, cut short`, ...readSecond(name) }));
  }
  const names = readdirSync(folder).flatMap((file) => (file.endsWith('.cap.gz') ? [file.slice(0, -7)] : []));
  return names.map((name) => readFeed(folder, name));
}

export const readFeed = (folder: string, name: string): BenchFeed => ({
  name,
  bytes: readCapture(join(folder, `${name}.cap.gz`)).bytes,
  calibration: readCalibration(readFileSync(join(folder, `${name}.cal.json`), 'utf8'), name),
  truth: JSON.parse(readFileSync(join(folder, `${name}.truth.json`), 'utf8')),
});

export function simulatedFeed(
  name: string,
  scenario: ScenarioName,
  seed: number,
  overrides: Overrides = {},
  longestSec = 1800,
): BenchFeed {
  const { bytes, calibration, truth } = simulateCapture({ scenario, seed, overrides, longestSec });
  const resetGapSec = overrides.chip?.resetGapSec ?? 1.2;
  return {
    name,
    bytes,
    calibration: parseCalibration(calibration, `of ${name}`),
    truth: onDeviceTime(truth, resetGapSec),
  };
}

export const SCENARIOS_IN_ORDER: readonly ScenarioName[] = SCENARIO_NAMES;

/** The truth as the device tells time: while its chip starts anew its clock stands (sleeve contract, section 2). */
function onDeviceTime(truth: Truth, gapSec: number): Truth {
  const resets = truth.events.filter(({ kind }) => kind === 'chip-reset').map(({ atSec }) => atSec);
  if (resets.length === 0) return truth;
  const deviceSec = (atSec: number): number =>
    resets.reduce((sec, resetSec) => sec - Math.min(gapSec, Math.max(0, atSec - resetSec)), atSec);
  const rows = truth.atSec
    .map((_, i) => i)
    .filter((i) => i === 0 || deviceSec(truth.atSec[i]!) > deviceSec(truth.atSec[i - 1]!));
  const pick = <T>(column: T[]): T[] => rows.map((i) => column[i]!);
  return {
    atSec: pick(truth.atSec).map(deviceSec),
    milkMl: pick(truth.milkMl),
    onMouth: pick(truth.onMouth),
    intakeSoFarMl: pick(truth.intakeSoFarMl),
    flow10MlPerMin: pick(truth.flow10MlPerMin),
    flow10CentredMlPerMin: pick(truth.flow10CentredMlPerMin),
    suckTimes: truth.suckTimes.map(deviceSec),
    events: truth.events.map((event) => ({ ...event, atSec: deviceSec(event.atSec) })),
  };
}
