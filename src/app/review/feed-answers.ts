/** Answers about one stored feed, or about two side by side. */
import { FieldError, PlainError } from '../../base/errors.ts';
import type { KeptFeed } from '../../feed/record/feed.ts';
import type { CorrectionContent } from '../../feed/record/written-by-hand.ts';
import { feedFile } from '../../paper/feed/feed-file.ts';
import { feedPdf } from '../../paper/feed/feed-pdf.ts';
import { readPackingSettings } from '../../planning/bag/packing-settings.ts';
import { teatBesideFeed } from '../../research/teat/beside-feed.ts';
import type { TeatPassport } from '../../research/teat/passport-format.ts';
import { compareGraphSvg, feedCurve, feedValues, tellFeed } from '../../review/index.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';
import { namedNow } from '../babies/known-babies.ts';
import type { Surroundings } from '../packing/plan-for.ts';
import { afterFeed } from './after-feed.ts';
import { inPage, isOn, languageOf, noteOf, textOf, unitOf } from './queries.ts';
import type { FeedTelling, Query, ReviewService } from './review-answers.ts';

/** As many as a page of the list shows. */
const MOST_CURVES = 60;

type FeedAnswers = Pick<
  ReviewService,
  'told' | 'values' | 'curves' | 'file' | 'correct' | 'after' | 'compare'
>;

/** All passports of a nipple, newest last. */
export type PassportsOf = (teat: string) => readonly TeatPassport[];

export function feedAnswers(store: FeedJournal, around: Surroundings, passportsOf: PassportsOf): FeedAnswers {
  const kept = (id: string): KeptFeed => namedNow(keptFeed(store, id), store.allBabies());
  const told = (id: string, query: Query): FeedTelling => toldFeed(kept(id), query, around.zone, passportsOf);
  return {
    told,
    values: (id) => feedValues(kept(id)),
    curves: (query) => {
      const ids = (textOf(query, 'feeds') ?? '').split(',').slice(0, MOST_CURVES);
      const feeds = ids.flatMap((id) => store.get(id) ?? []);
      return Object.fromEntries(feeds.map((feed) => [feed.id, feedCurve(feed)]));
    },
    async file(id, ending, query) {
      const options = { ...telling(query, around.zone), note: noteOf(query) };
      return ending === 'pdf' ? feedPdf(kept(id), options) : feedFile(kept(id), options);
    },
    correct(id, body, query) {
      const { correction, by = null } = (body ?? {}) as {
        correction?: CorrectionContent;
        by?: string | null;
      };
      if (!correction)
        throw new FieldError(
          'entry-invalid',
          '',
          'There is nothing to put beside the feed.',
          'Enter it and try again.',
        );
      store.correct(id, correction, by);
      return told(id, query);
    },
    after: (id) => ({
      ...afterFeed(kept(id), around.nowMs(), readPackingSettings(store.readPacking()).centerTimes),
      zone: around.zone,
    }),
    compare(query) {
      const [first, second] = [textOf(query, 'first'), textOf(query, 'second')];
      if (!first || !second)
        throw new PlainError('compare-two', 'It takes two feeds to compare.', 'Choose another one.');
      const isOnPage = query.place === 'page';
      return compareGraphSvg(kept(first), kept(second), {
        ...telling(query, around.zone),
        ...inPage(query),
        theme: isOnPage ? 'inline' : 'light',
        hasHeading: !isOnPage,
      });
    },
  };
}

const telling = (query: Query, timeZone: string) => ({
  language: languageOf(query),
  volumeUnit: unitOf(query),
  timeZone,
  hasNames: isOn(query, 'names'),
});

function toldFeed(feed: KeptFeed, query: Query, zone: string, passportsOf: PassportsOf): FeedTelling {
  const { reading, note } = feed.corrected ?? { reading: null, note: null };
  const setup = feed.corrected?.setup ?? feed.setup;
  return {
    told: tellFeed(feed, telling(query, zone)),
    zone,
    feed: {
      id: feed.id,
      atMs: feed.corrected?.startedAtMs ?? feed.startedAtMs,
      setup,
      simulated: feed.simulated,
      isEnded: feed.state !== 'open',
      isRefined: feed.refined !== null,
    },
    nipple: setup.teatName ? teatBesideFeed(passportsOf(setup.teatName), feed) : null,
    beside: { offeredMl: reading?.offeredMl ?? null, leftMl: reading?.leftMl ?? null, note },
  };
}

/** @throws PlainError when there is no such feed */
export function keptFeed(store: FeedJournal, id: string): KeptFeed {
  const feed = store.get(id);
  if (feed) return feed;
  throw new PlainError('feed-unknown', 'There is no kept feed of that name.', 'Look in the list of feeds.');
}
