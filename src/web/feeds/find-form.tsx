/** Search fields for feeds. A choice takes effect at once. */
import type { FoundFeeds } from '../../app/review/review-answers.ts';
import { babyChoices } from '../parts/baby-choices.ts';
import { useChoices } from '../parts/choices.tsx';
import { FEEDS_WORDS } from './words.ts';

/** Empty: no restriction. `until` is a day, YYYY-MM-DD. */
export interface Sought {
  until: string;
  baby: string;
  bottle: string;
  teat: string;
}
export const NOTHING_SOUGHT: Sought = { until: '', baby: '', bottle: '', teat: '' };

export interface FindFormProps {
  names: FoundFeeds['names'];
  sought: Sought;
  onSought: (sought: Sought) => void;
}

export function FindForm({ names, sought, onSought }: FindFormProps) {
  const { language } = useChoices();
  const words = FEEDS_WORDS[language];
  const asItIs = (list: readonly string[]) => list.map((text) => ({ value: text, text }));
  const choices: [keyof Sought, string, { value: string; text: string }[]][] = [
    ['baby', words.baby, babyChoices(names.babies, language)],
    ['bottle', words.bottle, asItIs(names.bottles)],
    ['teat', words.teat, asItIs(names.teats)],
  ];
  return (
    <details class="find">
      <summary>{words.find}</summary>
      <div class="side-by-side">
        <div class="field">
          <label for="until">{words.until}</label>
          <input
            id="until"
            type="date"
            value={sought.until}
            onChange={({ currentTarget }) => onSought({ ...sought, until: currentTarget.value })}
          />
        </div>
        {choices
          .filter(([, , list]) => list.length > 0)
          .map(([part, label, list]) => (
            <div class="field" key={part}>
              <label for={`find-${part}`}>{label}</label>
              <select
                id={`find-${part}`}
                value={sought[part]}
                onChange={({ currentTarget }) => onSought({ ...sought, [part]: currentTarget.value })}
              >
                <option value="">{words.any}</option>
                {list.map(({ value, text }) => (
                  <option key={value} value={value}>
                    {text}
                  </option>
                ))}
              </select>
            </div>
          ))}
      </div>
    </details>
  );
}
