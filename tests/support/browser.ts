/** The system's browser for tests of the page; or why there is none. */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';

const CHROMIUM = '/usr/bin/chromium';
export const hasBrowser = existsSync(CHROMIUM);
/** Added to the name of a skipped suite. */
export const noBrowserReason = hasBrowser ? '' : ` (skipped: there is no ${CHROMIUM} on this machine)`;

/** Limit only for what never comes: a browser's speed on a busy machine says nothing. */
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

/**
 * A page in a context of its own, by default at the size of a phone.
 * @param complaints  takes what the page says in its console about errors, refused scripts and styles among them
 * @param hour  shown by the page's clock, which decides between day and night; without it the computer's
 */
export async function freshPage(
  browser: Browser,
  options: BrowserContextOptions,
  complaints: string[],
  hour?: number,
): Promise<Page> {
  const context = await browser.newContext({ viewport: PHONE, locale: 'en-US', ...options });
  context.setDefaultTimeout(WAITS_MS);
  if (hour !== undefined)
    await context.addInitScript((now) => {
      Date.prototype.getHours = () => now;
    }, hour);
  const page = await context.newPage();
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  page.on('pageerror', (error) => complaints.push(String(error)));
  return page;
}

/** Builds the page into a folder of its own. */
export function builtPage(): { folder: string; remove: () => void } {
  const folder = mkdtempSync(join(tmpdir(), 'ebbline-page-'));
  const script = fileURLToPath(new URL('../../src/build.mjs', import.meta.url));
  execFileSync(process.execPath, [script, 'page', folder], { stdio: 'pipe' });
  return { folder, remove: () => rmSync(folder, { recursive: true }) };
}

/** Gzipped size of everything the live page loads at first, bytes, without parts that are imported later. */
export const firstPageBytes = (folder: string): number =>
  firstBytes(folder, ['index.html', 'mark.svg', 'page.css', 'page.js']);

/** The same for any page. */
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
