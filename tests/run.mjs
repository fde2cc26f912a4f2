/**
 * `npm test`: builds if need be, provides the programs that some tests need, runs all tests once, and ends with one line of totals.
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

function runTests(reportFile) {
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
      ...process.argv.slice(2),
    ],
    { cwd: root, stdio: 'inherit' },
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

function main() {
  if (!ensureFreshBuild()) {
    console.error('tests: the build failed; nothing was tested.');
    return { code: 1, totals: { passed: 0, failed: 1, skipped: 0 } };
  }
  provideSystemTools();
  const folder = mkdtempSync(join(tmpdir(), 'ebbline-totals-'));
  const reportFile = join(folder, 'report.json');
  try {
    const code = runTests(reportFile);
    return { code, totals: totalsFrom(reportFile) };
  } catch (error) {
    console.error(`tests: the runner left no totals: ${error.message}`);
    return { code: 1, totals: { passed: 0, failed: 1, skipped: 0 } };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const { code, totals } = main();
console.log(`${totals.passed} passed, ${totals.failed} failed, ${totals.skipped} skipped`);
process.exitCode = code;
