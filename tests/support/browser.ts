/** The system's browser for tests of the page, and why there is none if so. */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { type Browser, chromium } from 'playwright-core';

const CHROMIUM = '/usr/bin/chromium';
export const hasBrowser = existsSync(CHROMIUM);
/** Stands in the name of a skipped suite. */
export const noBrowserReason = hasBrowser ? '' : ` (skipped: there is no ${CHROMIUM} on this machine)`;

/** Only so that what never comes is noticed some day: how long a browser takes on a busy machine says nothing. */
export const WAITS_MS = 240_000;

export const PHONE = { width: 360, height: 740 } as const;

export const launchBrowser = (): Promise<Browser> =>
  chromium.launch({
    executablePath: CHROMIUM,
    timeout: WAITS_MS,
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });

/** Builds the page into a folder of its own. */
export function builtPage(): { folder: string; remove: () => void } {
  const folder = mkdtempSync(join(tmpdir(), 'ebbline-page-'));
  const script = fileURLToPath(new URL('../../src/build.mjs', import.meta.url));
  execFileSync(process.execPath, [script, 'page', folder], { stdio: 'pipe' });
  return { folder, remove: () => rmSync(folder, { recursive: true }) };
}

/** Size of all that the live page loads before it is there, gzipped, bytes. What is imported late is not in it. */
export const firstPageBytes = (folder: string): number =>
  firstBytes(folder, ['index.html', 'mark.svg', 'page.css', 'page.js']);

/** The same of any page. */
export function firstBytes(folder: string, files: readonly string[]): number {
  const names = new Set(files);
  for (const name of names) {
    if (!name.endsWith('.js')) continue;
    const code = readFileSync(join(folder, name), 'utf8');
    for (const [, path] of code.matchAll(/(?:\bfrom|\bimport)\s*"(\.[^"]+)"/g)) {
      names.add(join(dirname(name), path!));
    }
  }
  return [...names]
    .map((name) => gzipSync(readFileSync(join(folder, name))).length)
    .reduce((sum, size) => sum + size, 0);
}
