/** The kept feeds, newest first, day by day. */
import type { FeedListAnswer } from '../../server/answers.ts';
import type { ListedFeed } from '../../server/needs.ts';
import type { Guard } from '../live/guard.ts';
import { useJson } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { ReadingPage } from '../parts/reading-page.tsx';
import { RefusedNote } from '../parts/refused-note.tsx';
import { addressOf } from '../parts/route.ts';
import { UnitChoice } from '../parts/ways.tsx';
import { byDay, timeText } from './days.ts';

export function FeedsPage({ guard }: { guard: Guard }) {
  const { texts, language } = useChoices();
  const answer = useJson<FeedListAnswer>('/feeds');
  return (
    <ReadingPage title={texts.feeds.title} page="feeds" guard={guard}>
      {answer.state === 'asking' && <p class="soft">{texts.feeds.asking}</p>}
      {answer.state === 'refused' && <RefusedNote error={answer.error} />}
      {answer.state === 'here' && answer.answer.feeds.length === 0 && <p>{texts.feeds.none}</p>}
      {answer.state === 'here' &&
        byDay(answer.answer.feeds, language).map(({ day, feeds }) => (
          <section key={day} class="day">
            <h2>{day}</h2>
            <ul>
              {feeds.map((feed) => (
                <FeedLine key={feed.id} feed={feed} />
              ))}
            </ul>
          </section>
        ))}
      {answer.state === 'here' && answer.answer.feeds.length > 0 && <UnitChoice />}
    </ReadingPage>
  );
}

function FeedLine({ feed }: { feed: ListedFeed }) {
  const { texts, language, volume } = useChoices();
  const marks = [
    texts.feeds.minutes(feed.durationSec),
    feed.cueCount === undefined ? null : texts.feeds.cues(feed.cueCount),
    feed.setup.babyName,
    feed.state === 'open' ? texts.feeds.open : null,
  ].filter(Boolean);
  return (
    <li>
      <a class="feed-line" href={addressOf({ page: 'feed', id: feed.id })}>
        <span class="feed-time">{timeText(feed.startedAtMs, language)}</span>
        <span class="feed-amount">{volume(feed.intakeMl)}</span>
        <span class="feed-marks">
          {marks.join(' · ')} {feed.simulated && <span class="tag">{texts.feeds.simulated}</span>}
        </span>
      </a>
    </li>
  );
}
