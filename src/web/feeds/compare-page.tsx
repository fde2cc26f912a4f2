/** Two feeds drawn over each other. */
import { useState } from 'preact/hooks';
import type { FeedTelling } from '../../app/review/review-answers.ts';
import type { Guard } from '../live/guard.ts';
import { useJson } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { ReadingPage } from '../parts/reading-page.tsx';
import { RefusedNotice } from '../parts/refused-notice.tsx';
import { addressOf } from '../parts/route.ts';
import { UnitChoice } from '../parts/ways.tsx';
import { Drawing, pageGraphWidth } from './feed-graph.tsx';
import { queryOf } from './query.ts';
import { FEEDS_WORDS } from './words.ts';

export function ComparePage({ first, second, guard }: { first: string; second: string; guard: Guard }) {
  const { texts, language, unit } = useChoices();
  const words = FEEDS_WORDS[language].compare;
  const [width] = useState(pageGraphWidth);
  const query = queryOf(language, unit, { first, second, width, place: 'page' });
  return (
    <ReadingPage title={words.title} page="compare" guard={guard}>
      <p class="soft">{words.intro}</p>
      <ToldLine id={first} mark={words.first} />
      <ToldLine id={second} mark={words.second} />
      <figure class="graph">
        <Drawing address={`/compare.svg?${query}`} />
      </figure>
      <UnitChoice />
      <p>
        <a href={addressOf({ page: 'feeds' })}>{texts.feed.allFeeds}</a>
      </p>
    </ReadingPage>
  );
}

/** Marks which line the feed has, with its date and its summary sentence. */
function ToldLine({ id, mark }: { id: string; mark: string }) {
  const { language, unit } = useChoices();
  const telling = useJson<FeedTelling>(`/feeds/${encodeURIComponent(id)}/told?${queryOf(language, unit)}`);
  if (telling.state === 'refused') return <RefusedNotice error={telling.error} />;
  if (telling.state === 'asking') return null;
  const { when, sentence } = telling.answer.told;
  return (
    <p>
      <strong>{mark}:</strong> {when} · {sentence}
    </p>
  );
}
