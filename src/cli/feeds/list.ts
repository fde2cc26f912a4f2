/** `ebbline feeds`: the stored feeds, newest first, a page at a time. */

import { counted } from '../../base/counted.ts';
import { PlainError } from '../../base/errors.ts';
import { volumeText } from '../../base/units.ts';
import type { ListedFeed } from '../../feed/record/written-by-hand.ts';
import { say, sayJson } from '../print-out.ts';
import { withStore } from '../with-store.ts';

export interface ListOptions {
  page?: number;
  perPage: number;
  simulated?: boolean;
  discarded?: boolean;
  json?: boolean;
}

/** As JSON all feeds, unless a page is requested. @throws PlainError if the feeds cannot be read, or there is no such page */
export async function listCommand(options: ListOptions): Promise<void> {
  const { page, perPage, discarded = false, json, simulated } = options;
  await withStore({ simulated }, (store, folder) => {
    const feeds = store.list({ discarded });
    if (json && page === undefined) return sayJson(feeds);
    const [shown, pages] = [page ?? 1, Math.max(1, Math.ceil(feeds.length / perPage))];
    if (shown > pages)
      throw new PlainError(
        'page-unknown',
        `There is no page ${shown}.`,
        `Pages go from 1 to ${pages}, with ${perPage} feeds on each.`,
      );
    const onPage = feeds.slice((shown - 1) * perPage, shown * perPage);
    if (json) return sayJson(onPage);
    if (feeds.length === 0) {
      const hint = simulated ? '' : ' For those of the simulated sleeve add --simulated.';
      return say(`No feeds are kept in ${folder}.${hint}`);
    }
    const more = shown < pages ? `; older ones with --page ${shown + 1}` : '';
    return say([...onPage.map(lineOf), pages > 1 && `Page ${shown} of ${pages}${more}.`]);
  });
}

function lineOf({ id, startedAtMs, durationSec, intakeMl, toldCount, state }: ListedFeed): string {
  const when = new Date(startedAtMs).toLocaleString('en-US');
  const note = state === 'ended' ? '' : `  ${state === 'open' ? 'still open' : 'not a feed'}`;
  return `${id}  ${when}  ${volumeText(intakeMl)} in ${Math.round(durationSec / 60)} min${toldCount === null ? '' : `  ${counted(toldCount, 'cue')}`}${note}`;
}
