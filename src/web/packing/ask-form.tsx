/** When she is away and how many feeds she will miss: the only questions on the evening before. */

import type { PackingStart } from '../../app/packing/packing-answers.ts';
import { keyOf } from '../../base/babies.ts';
import type { PackingAnswer } from '../../planning/bag/packing.ts';
import type { Refused } from '../parts/ask.ts';
import { babyChoices } from '../parts/baby-choices.ts';
import { useChoices } from '../parts/choices.tsx';
import { OneOf } from '../parts/one-of.tsx';
import { RefusedNotice } from '../parts/refused-notice.tsx';
import { Count, Field } from './field.tsx';
import type { Ask } from './use-plan.ts';
import type { PackingWords } from './words.ts';

export interface AskFormProps {
  words: PackingWords;
  start: PackingStart;
  ask: Ask;
  answer: PackingAnswer | null;
  error: Refused | null;
  onChange: (part: Partial<Ask>) => void;
}

const MOST_FEEDS = 16;

export function AskForm({ words, start, ask, answer, error, onChange }: AskFormProps) {
  const { language } = useChoices();
  const at = (field: string): Refused | null => (error?.field === field ? error : null);
  const known = start.babies.find((one) => keyOf(one) === (ask.baby ?? ''));
  const feeds = ask.feeds ?? answer?.feeds ?? null;
  const step = (by: number) => {
    if (feeds !== null) onChange({ feeds: Math.min(MOST_FEEDS, Math.max(1, feeds + by)) });
  };
  return (
    <form class="before" noValidate onSubmit={(event) => event.preventDefault()}>
      {start.babies.length > 1 && (
        <OneOf
          name="baby"
          label={words.baby}
          choices={babyChoices(start.babies, language)}
          value={ask.baby ?? ''}
          onChoose={(key) => {
            const baby = start.babies.find((one) => keyOf(one) === key);
            onChange({ baby: key, birthDay: baby?.birthDay ?? '', feeds: null });
          }}
        />
      )}
      {(known?.birthDay == null || error?.field === 'birthDay') && (
        <Field id="birth-day" label={words.born} hint={words.bornHint} error={at('birthDay')}>
          <input
            id="birth-day"
            type="date"
            value={ask.birthDay}
            onInput={(event) => onChange({ birthDay: event.currentTarget.value })}
          />
        </Field>
      )}
      <div class="away">
        <Field id="away-day" label={words.day} error={at('day')}>
          <input
            id="away-day"
            type="date"
            value={ask.day}
            onInput={(event) => onChange({ day: event.currentTarget.value })}
          />
        </Field>
        <Field id="away-from" label={words.from} error={at('from')}>
          <input
            id="away-from"
            type="time"
            value={ask.from}
            onInput={(event) => onChange({ from: event.currentTarget.value })}
          />
        </Field>
        <Field id="away-until" label={words.until} error={at('until')}>
          <input
            id="away-until"
            type="time"
            value={ask.until}
            onInput={(event) => onChange({ until: event.currentTarget.value })}
          />
        </Field>
      </div>
      <Count
        label={words.feeds}
        shown={feeds === null ? '–' : String(feeds)}
        fewer={words.fewer}
        more={words.more}
        onFewer={() => step(-1)}
        onMore={() => step(1)}
        below={
          <>
            {answer && <p class="soft hint">{words.feedsFrom[answer.feedsFrom]}</p>}
            {at('feeds') && <RefusedNotice error={at('feeds')!} />}
          </>
        }
      />
      <label class="unwell">
        <input
          type="checkbox"
          checked={ask.ill}
          onChange={(event) => onChange({ ill: event.currentTarget.checked })}
        />
        {words.ill}
      </label>
    </form>
  );
}
