/** Links to the day or week before and after, to any other, and to other babies. */
import { useState } from 'preact/hooks';
import type { DayWays } from '../../app/review/review-answers.ts';
import { keyOf } from '../../base/babies.ts';
import { babyChoices } from '../parts/baby-choices.ts';
import { useChoices } from '../parts/choices.tsx';
import { OneOf } from '../parts/one-of.tsx';
import { addressOf, type Route } from '../parts/route.ts';
import { FEEDS_WORDS } from './words.ts';

/** Key of the chosen baby, remembered while the page is open. Null: the one fed last. */
let chosenBaby: string | null = null;

export function useBaby(): [string | null, (baby: string) => void] {
  const [baby, setBaby] = useState(chosenBaby);
  return [
    baby,
    (key) => {
      chosenBaby = key;
      setBaby(key);
    },
  ];
}

export interface WaysThroughProps {
  ways: DayWays;
  day: string;
  words: readonly [before: string, after: string];
  to: (day: string) => Route;
  onBaby: (baby: string) => void;
}

export function WaysThrough({ ways, day, words: [before, after], to, onBaby }: WaysThroughProps) {
  const { language } = useChoices();
  const words = FEEDS_WORDS[language];
  const babies = babyChoices(ways.babies, language);
  return (
    <nav class="through" aria-label={words.days.other}>
      <a class="button" href={addressOf(to(ways.before))}>
        ← {before}
      </a>
      {ways.after ? (
        <a class="button" href={addressOf(to(ways.after))}>
          {after} →
        </a>
      ) : (
        <span />
      )}
      <div class="field">
        <label for="other-day">{words.days.other}</label>
        <input
          id="other-day"
          type="date"
          max={ways.today}
          value={day}
          onChange={({ currentTarget }) => {
            if (currentTarget.value) location.hash = addressOf(to(currentTarget.value));
          }}
        />
      </div>
      {babies.length > 1 && (
        <OneOf name="whose" label={words.baby} choices={babies} value={keyOf(ways.baby)} onChoose={onBaby} />
      )}
    </nav>
  );
}
