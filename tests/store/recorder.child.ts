/** Records one feed as fast as the disk allows and prints each second once it is stored; the test kills it. */
import { writeSync } from 'node:fs';
import { openStore } from '../../src/store/open-store.ts';
import { begunFeed, partOfSecond } from '../support/store-samples.ts';

const [folder, feedId, lastSecond, byteCount] = process.argv.slice(2) as [string, string, string, string];
const store = openStore(folder, { recording: true, softwareVersion: '0.1.0' });
store.begin(begunFeed(feedId), { sleeveId: 'bench-1' });
writeSync(1, 'begun\n');
for (let second = 0; second <= Number(lastSecond); second++) {
  store.append(feedId, partOfSecond(second, Number(byteCount)));
  writeSync(1, `kept ${second}\n`);
}
writeSync(1, 'ending\n');
store.finish(feedId, { endReason: 'button', endedAtMs: Date.UTC(2026, 0, 5, 9, 20, 0), refined: null });
writeSync(1, 'ended\n');
