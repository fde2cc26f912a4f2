/** `npm run bench soak`: a day of feeds on the real clock, at speed: does memory or do handles grow? `--quick`: an hour. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { soak, type Used } from '../support/soak.ts';
import { fixed, printTable } from './table.ts';

const FEED_MIN = 15;
const SPEED = 120;

export async function benchSoak(flags: ReadonlySet<string>): Promise<void> {
  const hours = flags.has('quick') ? 1 : 24;
  const folder = mkdtempSync(join(tmpdir(), 'ebbline-soak-'));
  const startedMs = performance.now();
  try {
    const { seen, kept, deviceSec } = await soak({
      folder: join(folder, 'data'),
      hours,
      feedMin: FEED_MIN,
      samplesPerSec: 80,
      speed: SPEED,
      // Waits for device time, so that a busy host does not shorten the day.
      async pass(sec, reachedSec) {
        const untilSec = reachedSec() + sec;
        while (reachedSec() < untilSec) await new Promise((resolve) => setTimeout(resolve, 20));
      },
    });
    const at = (share: number): Used => seen[Math.min(seen.length - 1, Math.floor(seen.length * share))]!;
    const row = (name: string, one: Used) => [name, fixed(one.bytes / 1e6, 1), one.handles];
    printTable(
      `Soak: ${fixed(deviceSec / 3600, 1)} h of the sleeve in ${fixed((performance.now() - startedMs) / 60_000, 0)} min by the real clock, ${kept} feeds kept of ${seen.length}`,
      ['after', 'memory, MB', 'open files'],
      [
        row('the first feed', at(0)),
        row('a third', at(1 / 3)),
        row('two thirds', at(2 / 3)),
        row('all', at(1)),
      ],
      [
        `Growth from a third to the end: ${fixed(100 * (at(1).bytes / at(1 / 3).bytes - 1), 1)} %. Limit: 10 %, and the same open files.`,
      ],
    );
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
