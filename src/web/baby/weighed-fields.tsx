/** Feeds at the breast with weighings before and after: three of them give this pair's own pace. */
import { useState } from 'preact/hooks';
import type { OwnFeedKnown, WeighedFeed } from '../../pacing/profile/weighed-feeds.ts';
import type { Refused } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { OneOf } from '../parts/one-of.tsx';
import { Field, Trouble } from './field.tsx';
import type { BabyWords } from './words.ts';

export interface WeighedFieldsProps {
  words: BabyWords;
  weighed: readonly WeighedFeed[];
  /** From the stored feeds. */
  own: OwnFeedKnown | null;
  refused: Refused | null;
  onChange: (weighed: WeighedFeed[]) => void;
}

const EMPTY = { before: '', after: '', minutes: '', sides: 2 as 1 | 2 };
const figure = (text: string): number => (text.trim() === '' ? Number.NaN : Number(text.replace(',', '.')));

export function WeighedFields({ words, weighed, own, refused, onChange }: WeighedFieldsProps) {
  const { volume, language } = useChoices();
  const [typed, setTyped] = useState(EMPTY);
  const feed = {
    atMs: Date.now(),
    minutes: figure(typed.minutes),
    sides: typed.sides,
    beforeGrams: figure(typed.before),
    afterGrams: figure(typed.after),
  };
  const isWhole = [feed.minutes, feed.beforeGrams, feed.afterGrams].every(Number.isFinite);
  const add = () => {
    onChange([...weighed, feed]);
    setTyped(EMPTY);
  };
  const field = (id: 'before' | 'after' | 'minutes', label: string) => (
    <Field
      id={`weighed-${id}`}
      label={label}
      inputMode="decimal"
      value={typed[id]}
      trouble={null}
      onChange={(text) => setTyped({ ...typed, [id]: text })}
    />
  );
  return (
    <fieldset class="one-of">
      <legend>{words.weighed}</legend>
      <p class="soft">{words.weighedHint}</p>
      <ol>
        {weighed.map((one) => (
          <li key={one.atMs}>
            {new Date(one.atMs).toLocaleDateString(language)}: {one.afterGrams - one.beforeGrams} g,{' '}
            {one.minutes} min{' '}
            <button
              type="button"
              class="wordy"
              onClick={() => onChange(weighed.filter((other) => other !== one))}
            >
              {words.weighedOut}
            </button>
          </li>
        ))}
      </ol>
      <div class="side-by-side">
        {field('before', words.weighedBefore)}
        {field('after', words.weighedAfter)}
      </div>
      {field('minutes', words.weighedMinutes)}
      <OneOf
        name="weighed-sides"
        label={words.weighedSides}
        choices={[
          { value: '1', text: words.oneSide },
          { value: '2', text: words.twoSides },
        ]}
        value={typed.sides === 1 ? '1' : '2'}
        onChoose={(value) => setTyped({ ...typed, sides: value === '1' ? 1 : 2 })}
      />
      <button type="button" disabled={!isWhole} onClick={add}>
        {words.weighedAdd}
      </button>
      <p class="soft" role="status">
        {own
          ? words.weighedOwn(volume(own.feedMl), Math.ceil(2 * own.sdMl), Math.round(own.minutes))
          : words.weighedMissing}
      </p>
      <Trouble id="weighed-trouble">
        {refused?.field?.startsWith('weighed') ? words.troubles.weighed : null}
      </Trouble>
    </fieldset>
  );
}
