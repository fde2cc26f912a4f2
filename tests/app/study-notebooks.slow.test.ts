/** The worked notebooks of an export, run where Python or R is: what they compute from the tables is what the export says. */
import { execFileSync, spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { exportStudy } from '../../src/app/study/export/study-export.ts';
import { parseCalibration } from '../../src/sensing/index.ts';
import { recordFeed } from '../support/recorded-feed.ts';
import { simulateCapture } from '../support/simulated-capture.ts';
import { ALONE, START_MS, studyHere } from '../support/study.ts';

const runs = (command: string, ...args: string[]): boolean => spawnSync(command, args).status === 0;
const hasPython = runs('python3', '-c', 'import numpy');
const hasR = runs('Rscript', '--version');
const reason = (has: boolean, what: string): string => (has ? '' : ` (left out: no ${what} on this machine)`);

let out = '';

/** Three people in each arm, one of them with two feeds, and a session that is set aside. */
async function exported(): Promise<string> {
  const { store, study, folder } = studyHere({}, 90);
  // Long enough for most indices to be given.
  const feeds = [1, 2, 3, 4, 5, 6].map((seed) =>
    simulateCapture({ scenario: 'paced', seed, longestSec: 400 }),
  );
  feeds.forEach(({ bytes, calibration }, i) => {
    const parsed = parseCalibration(calibration, `simulated ${i}`);
    recordFeed(store, { id: `feed-${i}`, bytes, calibration: parsed, startMs: START_MS });
  });
  const codes = ['F01', 'F02', 'F03', 'F04', 'F05', 'F06'];
  for (const code of codes) study.enroll(code, 'all');
  study.bind('one', 'F01');
  for (let i = 0; i < feeds.length; i++) study.bind(`feed-${i}`, codes[i]!);
  study.bind('gone', 'F02');
  const path = join(folder, 'export');
  await exportStudy(study, store, ALONE, { out: path, raw: false, softwareVersion: '1' });
  return path;
}

const tableOf = (name: string): Record<string, string>[] =>
  parse(readFileSync(join(out, name), 'utf8'), { columns: true });

function judge(printed: string): void {
  const lines = printed
    .trim()
    .split('\n')
    .map((line) => line.trim().split(/\s+/));
  expect(lines[0]).toEqual(['sessions', '7']);
  const rates = lines.filter(([what]) => what === 'rate');
  expect(rates.length).toBe(7);
  const known = rates.filter(([, , , told]) => Number.isFinite(Number(told)));
  expect(known.length).toBeGreaterThan(0);
  // The times of the nipple in the mouth come from rows 0.4 s apart, in the notebook and in the index alike.
  for (const [, , rate, told] of known) expect(Number(rate)).toBeCloseTo(Number(told), 6);
  const comparisons = lines.filter(([what]) => what === 'comparison');
  const wanted = tableOf('figures/comparisons.csv');
  expect(comparisons.length).toBeGreaterThan(8);
  expect(comparisons.map(([, index]) => index)).toEqual(wanted.map(({ index }) => index));
  comparisons.forEach(([, , first, second, ...numbers], i) => {
    const row = wanted[i]!;
    expect([first, second]).toEqual([row.first_arm, row.second_arm]);
    const told = [row.difference, row.difference_low, row.difference_high].map(Number);
    const width = told[2]! - told[1]!;
    numbers.map(Number).forEach((number, k) => {
      // Two integrations of the same density, one on a grid of its own.
      expect(Math.abs(number - told[k]!)).toBeLessThan(1e-5 * width + 1e-12);
    });
  });
}

describe('a worked notebook', () => {
  it.skipIf(!hasPython)(
    `in Python agrees with the export${reason(hasPython, 'python3 with numpy')}`,
    async () => {
      out = await exported();
      judge(execFileSync('python3', ['notebook.py'], { cwd: out, encoding: 'utf8' }));
    },
  );

  it.skipIf(!hasR)(`in R agrees with the export${reason(hasR, 'Rscript')}`, async () => {
    out = await exported();
    judge(execFileSync('Rscript', ['notebook.R'], { cwd: out, encoding: 'utf8' }));
  });
});
