/** The stored feeds, newest first, by day; they can be found by day, baby, bottle and nipple. */
import { useEffect, useState } from 'preact/hooks';
import type { FoundFeeds } from '../../app/review/review-answers.ts';
import type { ListedFeed } from '../../feed/record/written-by-hand.ts';
import type { FeedCurve } from '../../review/facts/feed-curve.ts';
import type { Guard } from '../live/guard.ts';
import { getJson, type Refused } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { ReadingPage } from '../parts/reading-page.tsx';
import { RefusedNotice } from '../parts/refused-notice.tsx';
import { useMay } from '../parts/right.tsx';
import { addressOf } from '../parts/route.ts';
import { UnitChoice } from '../parts/ways.tsx';
import { WhoseNotice } from '../parts/whose-notice.tsx';
import { AloneFeeds } from './alone-feeds.tsx';
import { Curve, type Scale, scaleOf } from './curve.tsx';
import { byDay, timeText } from './days.ts';
import { FindForm, NOTHING_SOUGHT, type Sought } from './find-form.tsx';
import { FEEDS_WORDS } from './words.ts';
import { ZoneNotice } from './zone-notice.tsx';

interface Found {
  feeds: ListedFeed[];
  next: number | null;
  zone: string;
  names: FoundFeeds['names'];
}

/** The search and its results, page after page. */
function useFound(sought: Sought) {
  const [found, setFound] = useState<Found | null>(null);
  const [refused, setRefused] = useState<Refused | null>(null);
  const ask = async (before: number | null, earlier: ListedFeed[], signal?: AbortSignal) => {
    const query = new URLSearchParams(Object.entries(sought).filter(([, text]) => text !== ''));
    if (before !== null) query.set('before', String(before));
    const asked = await getJson<FoundFeeds>(`/found?${query}`, signal);
    if (signal?.aborted) return;
    setRefused('error' in asked ? asked.error : null);
    if ('answer' in asked) setFound({ ...asked.answer, feeds: [...earlier, ...asked.answer.feeds] });
  };
  useEffect(() => {
    const gone = new AbortController();
    ask(null, [], gone.signal);
    return () => gone.abort();
  }, [JSON.stringify(sought)]);
  const more = () => found?.next != null && ask(found.next, found.feeds);
  return { found, refused, more };
}

/** Curves are fetched after the list, which does not wait for them and is complete without them. */
function useCurves(feeds: readonly ListedFeed[]): Record<string, FeedCurve> {
  const [curves, setCurves] = useState<Record<string, FeedCurve>>({});
  const missing = feeds.map(({ id }) => id).filter((id) => !Object.hasOwn(curves, id));
  useEffect(() => {
    if (missing.length === 0) return;
    const gone = new AbortController();
    fetch(`/curves?feeds=${missing.map(encodeURIComponent).join(',')}`, { signal: gone.signal })
      .then(async (response) => response.ok && setCurves({ ...curves, ...(await response.json()) }))
      .catch(() => {});
    return () => gone.abort();
  }, [missing.join()]);
  return curves;
}

export function FeedsPage({ guard }: { guard: Guard }) {
  const { texts, language } = useChoices();
  const words = FEEDS_WORDS[language];
  const isOwner = useMay()('owner');
  const [sought, setSought] = useState(NOTHING_SOUGHT);
  const { found, refused, more } = useFound(sought);
  const curves = useCurves(found?.feeds ?? []);
  const scale = scaleOf(Object.values(curves));
  const isSeeking = Object.values(sought).some((text) => text !== '');
  return (
    <ReadingPage title={texts.feeds.title} page="feeds" guard={guard}>
      <WhoseNotice />
      <ZoneNotice />
      <p class="ways-on">
        <a class="button" href={addressOf({ page: 'days' })}>
          {words.day}
        </a>
        <a class="button" href={addressOf({ page: 'week' })}>
          {words.week}
        </a>
        {isOwner && (
          <a class="button" href={addressOf({ page: 'write-feed' })}>
            {words.writeIn}
          </a>
        )}
      </p>
      {!found && !refused && <p class="soft">{texts.feeds.asking}</p>}
      {refused && <RefusedNotice error={refused} />}
      {found && (found.feeds.length > 0 || isSeeking) && (
        <FindForm names={found.names} sought={sought} onSought={setSought} />
      )}
      {found && found.feeds.length === 0 && <p>{isSeeking ? words.nothingFound : texts.feeds.none}</p>}
      {found &&
        byDay(found.feeds, { language, zone: found.zone, nowMs: Date.now() }).map(({ day, feeds }) => (
          <section key={`${day} ${feeds[0]!.id}`} class="day">
            <h2>{day}</h2>
            <ul>
              {feeds.map((feed) => (
                <FeedLine key={feed.id} feed={feed} zone={found.zone} curve={curves[feed.id]} scale={scale} />
              ))}
            </ul>
          </section>
        ))}
      {found?.next != null && (
        <button type="button" onClick={more}>
          {words.more}
        </button>
      )}
      {!isSeeking && <AloneFeeds />}
      {found && found.feeds.length > 0 && <UnitChoice />}
    </ReadingPage>
  );
}

interface FeedLineProps {
  feed: ListedFeed;
  zone: string;
  curve: FeedCurve | undefined;
  scale: Scale;
}

function FeedLine({ feed, zone, curve, scale }: FeedLineProps) {
  const { texts, language, volume } = useChoices();
  const marks = [
    texts.feeds.minutes(feed.durationSec),
    feed.toldCount === null ? null : texts.feeds.cues(feed.toldCount),
    (feed.corrected?.setup ?? feed.setup).babyName,
    feed.state === 'open' ? texts.feeds.open : null,
  ].filter(Boolean);
  return (
    <li>
      <a class="feed-line" href={addressOf({ page: 'feed', id: feed.id })}>
        <span class="feed-time">{timeText(feed.atMs, { language, zone })}</span>
        <span class="feed-amount">{volume(feed.intakeMl)}</span>
        {curve && <Curve curve={curve} scale={scale} />}
        <span class="feed-marks">
          {marks.join(' · ')} {feed.simulated && <span class="tag">{texts.feeds.simulated}</span>}
        </span>
      </a>
    </li>
  );
}
