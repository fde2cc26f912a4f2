/**
 * `npm test`: builds if need be, provides the programs that some tests need, runs the quick tests once, and ends with one line of totals.
 * `slow` as first argument runs the slow ones, `all` the quick and then the slow ones, with one line of totals for both.
 * Further arguments go to the test runner: `npm test -- tests/wire`.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { ensureFreshBuild } from './support/fresh-build.mjs';
import { provideSystemTools } from './support/system-tools.mjs';

const root = fileURLToPath(new URL('..', import.meta.url));

const LANES = { quick: ['quick'], slow: ['slow'], all: ['quick', 'slow'] };
const [asked, ...others] = process.argv.slice(2);
const isLane = Object.hasOwn(LANES, asked ?? '');
const lanes = isLane ? LANES[asked] : LANES.quick;
const passedOn = isLane || asked === undefined ? others : [asked, ...others];

function runTests(lane, reportFile) {
  const { status, error } = spawnSync(
    process.execPath,
    [
      join(root, 'node_modules/vitest/vitest.mjs'),
      'run',
      '--config',
      join(root, 'tests/vitest.config.ts'),
      '--reporter=default',
      '--reporter=json',
      `--outputFile.json=${reportFile}`,
      // A folder may have no tests in a lane.
      '--passWithNoTests',
      ...passedOn,
    ],
    { cwd: root, stdio: 'inherit', env: { ...process.env, EBBLINE_TESTS: lane } },
  );
  if (error) console.error(`tests: the test runner did not start: ${error.message}`);
  return status ?? 1;
}

/** The runner's own totals; a file that could not be run at all counts as one failed test. */
function totalsFrom(reportFile) {
  const report = JSON.parse(readFileSync(reportFile, 'utf8'));
  const broken = report.testResults.filter(
    ({ status, assertionResults }) =>
      status === 'failed' && !assertionResults.some((test) => test.status === 'failed'),
  );
  for (const { name } of broken) console.log(`tests: could not be run: ${name}`);
  return {
    passed: report.numPassedTests,
    failed: report.numFailedTests + broken.length,
    skipped: report.numPendingTests + report.numTodoTests,
  };
}

/** One lane. A runner that left no report, or failed for another reason than a test, counts as one failed test. */
function runLane(lane) {
  const folder = mkdtempSync(join(tmpdir(), 'ebbline-totals-'));
  const reportFile = join(folder, 'report.json');
  try {
    const code = runTests(lane, reportFile);
    const totals = totalsFrom(reportFile);
    return code !== 0 && totals.failed === 0 ? { ...totals, failed: 1 } : totals;
  } catch (error) {
    console.error(`tests: the runner left no totals: ${error.message}`);
    return { passed: 0, failed: 1, skipped: 0 };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function main() {
  if (!ensureFreshBuild()) {
    console.error('tests: the build failed; nothing was tested.');
    return { passed: 0, failed: 1, skipped: 0 };
  }
  provideSystemTools();
  const sum = { passed: 0, failed: 0, skipped: 0 };
  for (const lane of lanes) {
    const totals = runLane(lane);
    for (const name of Object.keys(sum)) sum[name] += totals[name];
  }
  return sum;
}

const { passed, failed, skipped } = main();
console.log(`${passed} passed, ${failed} failed, ${skipped} skipped`);
process.exitCode = failed > 0 || passed + skipped === 0 ? 1 : 0;
