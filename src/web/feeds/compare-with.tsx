/** Choosing another feed to compare with this one. */
import { useState } from 'preact/hooks';
import type { FoundFeeds } from '../../app/review/review-answers.ts';
import { useJson } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { addressOf } from '../parts/route.ts';
import { dayText, timeText } from './days.ts';
import { queryOf } from './query.ts';
import { FEEDS_WORDS } from './words.ts';

export function CompareWith({ id }: { id: string }) {
  const { language, unit, volume } = useChoices();
  const words = FEEDS_WORDS[language].compare;
  const found = useJson<FoundFeeds>(`/found?${queryOf(language, unit)}`);
  const others = found.state === 'here' ? found.answer.feeds.filter((feed) => feed.id !== id) : [];
  const reading = {
    language,
    zone: found.state === 'here' ? found.answer.zone : 'UTC',
    nowMs: Date.now(),
  };
  const [chosen, setChosen] = useState('');
  const other = chosen || others[0]?.id;
  if (!other) return null;
  return (
    <div class="field compare-with">
      <label for="other">{words.choose}</label>
      <select id="other" value={other} onChange={({ currentTarget }) => setChosen(currentTarget.value)}>
        {others.map((feed) => (
          <option key={feed.id} value={feed.id}>
            {dayText(feed.atMs, reading)}, {timeText(feed.atMs, reading)}: {volume(feed.intakeMl)}
          </option>
        ))}
      </select>
      <a class="button" href={addressOf({ page: 'compare', first: id, second: other })}>
        {words.show}
      </a>
    </div>
  );
}
