/** What the commands about feeds and days do. What loads slowly is imported where it is used. */
import { whoseAsAsked } from '../../app/babies/open-feeds.ts';
import { openFeedsText } from '../../app/babies/whose-text.ts';
import { endingOf } from '../../app/out-file.ts';
import { addedByHand } from '../../app/review/hand-entry.ts';
import type { ReviewService } from '../../app/review/review-answers.ts';
import { dayText, feedsText, pageOf, weekText } from '../../app/review/told-text.ts';
import { type Lines, say, shown, warn, writeOut } from '../print-out.ts';
import { withProgress } from '../progress.ts';
import { type Kept, keptPlace, onBabies, onStore } from '../with-store.ts';
import type { FeedRuns } from './commands.ts';

/** Exit code: the import has ended, and some lines of the file were not taken. */
const EXIT_IN_PART = 1;

const exchange = () => import('../../app/kept/exchange-asked.ts');

const onReview = <G extends Kept & { baby?: string }>(act: (service: ReviewService, given: G) => Lines) =>
  onBabies(async (store, given: G) => {
    const { reviewFor } = await import('../../app/review/review-service.ts');
    return act(reviewFor(store, given), given);
  });

export const runs: FeedRuns = {
  /** As JSON all feeds, unless a page is requested. */
  'feeds list': onStore((store, { discarded = false, page: no, perPage, json, simulated }, folder) => {
    const all = store.list({ discarded });
    const page = pageOf(all, no ?? 1, perPage);
    const hint = simulated ? '' : ' For those of the simulated sleeve add --simulated.';
    return shown(json, no === undefined ? all : page.feeds, () =>
      all.length === 0 ? `No feeds are kept in ${folder}.${hint}` : feedsText(page),
    );
  }),
  'feeds graph': onStore(async (store, given) => {
    const { graphAsAsked } = await import('../../app/review/graph-file.ts');
    const { path, content } = await graphAsAsked(store, given);
    return path === '-' ? String(content).trimEnd() : writeOut(path, content, given);
  }),
  'feeds again': onStore(async (store, { feed, json }) => {
    const [{ againFrom }, { againText }] = await Promise.all([
      import('../../app/review/feed-again.ts'),
      import('../../app/review/replay-text.ts'),
    ]);
    const again = againFrom(store, feed);
    return json ? JSON.stringify(again) : againText(again);
  }),
  'feeds add': onStore((store, given) => addedByHand(store, given.kind, given)),
  'feeds whose': onStore((store, given) => shown(given.json, whoseAsAsked(store, given), openFeedsText)),
  'feeds export': onStore(async (store, given) => {
    const { exportAsAsked } = await exchange();
    return withProgress('Exporting', (onProgress) => exportAsAsked(store, given, onProgress));
  }),
  'feeds import': async ({ file, ...given }) => {
    const { importAsAsked } = await exchange();
    const { imported, setAside } = await withProgress('Importing', (onProgress) =>
      importAsAsked(keptPlace(given), file, onProgress),
    );
    say(imported);
    if (setAside === null) return;
    warn(setAside);
    process.exitCode = EXIT_IN_PART;
  },
  day: onReview((service, given) => {
    const { out, names, json } = given;
    if (out !== undefined) endingOf(out, ['html']);
    const query = { ...given, names: names ? '1' : '' };
    if (out === undefined) return shown(json, service.day(query), dayText);
    return writeOut(out, service.dayFile(query), given);
  }),
  week: onReview((service, given) => shown(given.json, service.week({ ...given }), weekText)),
};
