/** `ebbline feeds`: what was kept, newest first. */

import { volumeText } from '../base/units.ts';
import { dataFolder } from '../store/data-folder.ts';
import { openStore } from '../store/feed-store.ts';

export interface FeedsOptions {
  simulated?: boolean;
  discarded?: boolean;
  json?: boolean;
}

/** @throws PlainError when the data folder cannot be read */
export async function feedsCommand(options: FeedsOptions): Promise<void> {
  const folder = dataFolder({ simulated: options.simulated ?? false });
  const store = openStore(folder);
  try {
    const feeds = store.list({ discarded: options.discarded ?? false });
    if (options.json) {
      process.stdout.write(`${JSON.stringify(feeds, null, 2)}\n`);
      return;
    }
    if (feeds.length === 0) {
      const hint = options.simulated ? '' : ' For those of the simulated sleeve add --simulated.';
      process.stdout.write(`No feeds are kept in ${folder}.${hint}\n`);
      return;
    }
    for (const feed of feeds) {
      const minutes = Math.round(feed.durationSec / 60);
      const state = feed.state === 'ended' ? '' : `  ${feed.state === 'open' ? 'still open' : 'not a feed'}`;
      process.stdout.write(
        `${feed.id}  ${new Date(feed.startedAtMs).toLocaleString('en-US')}  ${volumeText(feed.intakeMl)} in ${minutes} min${feed.toldCount === null ? '' : `  ${feed.toldCount} cues`}${state}\n`,
      );
    }
  } finally {
    store.close();
  }
}
