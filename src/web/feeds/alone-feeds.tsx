/** Feeds that the sleeve guided without a host: fetched from it, marked as such, with their larger uncertainty. */
import type { AloneFeedsAnswer } from '../../server/answers.ts';
import type { Guard } from '../live/guard.ts';
import { useJson } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { ReadingPage } from '../parts/reading-page.tsx';
import { addressOf } from '../parts/route.ts';
import { Unanswered } from '../parts/unanswered.tsx';
import { UnitChoice } from '../parts/ways.tsx';
import { ALONE_WORDS } from './alone-words.ts';
import { dateText } from './days.ts';
import { ToldTable } from './told-table.tsx';

type Feed = AloneFeedsAnswer['feeds'][number];

/** In the list of feeds; nothing where there are none. */
export function AloneFeeds() {
  const { language, volume } = useChoices();
  const words = ALONE_WORDS[language];
  const answer = useJson<AloneFeedsAnswer>('/alone-feeds');
  if (answer.state !== 'here' || answer.answer.feeds.length === 0) return null;
  const { feeds, zone } = answer.answer;
  return (
    <section class="day">
      <h2>{words.title}</h2>
      <p class="soft">{words.intro}</p>
      <ul>
        {feeds.map((feed) => (
          <li key={feed.id}>
            <a class="feed-line" href={addressOf({ page: 'alone', id: feed.id })}>
              <span class="feed-amount">{volume(feed.intakeMl)}</span>
              <span class="feed-marks">
                {words.minutes(feed.perMinuteMl.length)} ·{' '}
                {words.fetched(dateText(feed.fetchedAtMs, { language, zone }))}{' '}
                <span class="tag">{words.tag}</span>
              </span>
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** One of them. */
export function AlonePage({ id, guard }: { id: string; guard: Guard }) {
  const { language } = useChoices();
  const words = ALONE_WORDS[language];
  const answer = useJson<AloneFeedsAnswer>('/alone-feeds');
  const feed = answer.state === 'here' ? answer.answer.feeds.find((one) => one.id === id) : undefined;
  return (
    <ReadingPage title={words.one} page="feeds" guard={guard}>
      <Unanswered of={answer} />
      {answer.state === 'here' && !feed && <p>{words.gone}</p>}
      {answer.state === 'here' && feed && <OneFeed feed={feed} zone={answer.answer.zone} />}
      <UnitChoice />
    </ReadingPage>
  );
}

function OneFeed({ feed, zone }: { feed: Feed; zone: string }) {
  const { language, volume } = useChoices();
  const words = ALONE_WORDS[language];
  const { intakeMl, intakeSdMl, perMinuteMl, tooFast, burps, sleeveId, fetchedAtMs } = feed;
  const ml = (value: number) => `${value.toFixed(0)} mL`;
  return (
    <div class="told">
      <p class="lead">
        {words.sentence(volume(intakeMl), ml(2 * intakeSdMl), perMinuteMl.length)}{' '}
        <span class="tag">{words.tag}</span>
      </p>
      <p>{tooFast === null || burps === null ? words.torn : words.cues(tooFast, burps)}</p>
      <p class="soft">{words.doubt}</p>
      <p class="soft">{words.from(sleeveId, dateText(fetchedAtMs, { language, zone }))}</p>
      <ToldTable
        label={words.table}
        heads={[words.minute, words.milk]}
        rows={perMinuteMl.map((value, i) => ({ key: String(i), cells: [String(i + 1), volume(value)] }))}
      />
    </div>
  );
}
