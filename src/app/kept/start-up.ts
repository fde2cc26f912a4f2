/** What `ebbline start` does with the store before it begins. */
import { PlainError } from '../../base/errors.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import { checkStore } from './check-store.ts';

/** Ends feeds that a killed process or a power cut left open; the helper process makes their refined pass from the capture. */
export function finishInterrupted(store: FeedStore): void {
  for (const feed of store.unfinished()) {
    const when = new Date(feed.startedAtMs).toLocaleString('en-US');
    try {
      store.recover(feed.id, null);
      process.stdout.write(`The feed of ${when} was interrupted; it is kept as far as it went.\n`);
    } catch (error) {
      // An error here must not delay the next feed.
      if (!(error instanceof PlainError)) throw error;
      process.stderr.write(
        `The feed of ${when} was interrupted and cannot be put in order now: ${error.text} It is tried again at the next start.\n`,
      );
    }
  }
}

/** Reports findings of a short check of the folder that a person should know. */
export function sayFindings(folder: string): void {
  try {
    const grave = checkStore(folder, false).findings.filter(({ kind }) => TO_BE_SAID.has(kind));
    for (const { what } of grave.slice(0, 3)) process.stderr.write(`ebbline: ${what}\n`);
    if (grave.length > 0) process.stderr.write('ebbline: see all of it with: ebbline data check\n');
  } catch (error) {
    if (!(error instanceof PlainError)) throw error;
    process.stderr.write(`ebbline: ${error.text}\n`);
  }
}
const TO_BE_SAID: ReadonlySet<string> = new Set([
  'database-damaged',
  'database-foreign',
  'capture-without-feed',
  'feed-without-capture',
]);
