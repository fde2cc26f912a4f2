/** Pace, usual feed, own minutes, burps, hints; all have defaults. */
import { keysOf } from '../../base/typed.ts';
import type { Strictness } from '../../pacing/profile/scaled-profile.ts';
import type { OwnFeedKnown } from '../../pacing/profile/weighed-feeds.ts';
import { nextPortionMl } from '../before/portion.ts';
import type { Refused } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { choicesOf, OneOf } from '../parts/one-of.tsx';
import { type Draft, troubleAt } from './draft.ts';
import { Field, OnOff, Trouble } from './field.tsx';
import { WeighedFields } from './weighed-fields.tsx';
import type { BabyWords } from './words.ts';

export interface PaceFieldsProps {
  words: BabyWords;
  draft: Draft;
  learnedMl: number | null;
  ownFeed: OwnFeedKnown | null;
  refused: Refused | null;
  onChange: (part: Partial<Draft>) => void;
}

const PACES: readonly Strictness[] = ['gentle', 'usual', 'strict'];
const BURPS = ['half-ounce', 'ounce', 'two-ounces', 'half-way-and-end'] as const;

export function PaceFields(props: PaceFieldsProps) {
  const { words, draft, ownFeed, refused, onChange } = props;
  const { choices } = draft;
  const { switches } = useChoices().words;
  return (
    <>
      <OneOf
        name="pace"
        label={words.pace}
        choices={choicesOf(PACES, words.paces)}
        value={draft.pace}
        onChoose={(pace) => onChange({ pace })}
      />
      <p class="soft">{words.paceHint}</p>
      <UsualFeed {...props} />
      <OneOf
        name="breastfed"
        label={words.breastfed}
        choices={[
          { value: 'no', text: words.no },
          { value: 'yes', text: words.yes },
        ]}
        value={draft.breastfed ? 'yes' : 'no'}
        onChoose={(value) => onChange({ breastfed: value === 'yes' })}
      />
      {draft.breastfed && (
        <div class="side-by-side">
          <Field
            id="breast-minutes"
            label={words.minutes}
            hint={words.minutesHint}
            inputMode="numeric"
            value={draft.minutes}
            trouble={troubleAt(refused, 'breast.minutes', words)}
            onChange={(minutes) => onChange({ minutes })}
          />
          <OneOf
            name="sides"
            label={words.sides}
            choices={[
              { value: '1', text: words.oneSide },
              { value: '2', text: words.twoSides },
            ]}
            value={draft.sides === 1 ? '1' : '2'}
            onChoose={(value) => onChange({ sides: value === '1' ? 1 : 2 })}
          />
        </div>
      )}
      {draft.breastfed && (
        <WeighedFields
          words={words}
          weighed={draft.weighed}
          own={ownFeed}
          refused={refused}
          onChange={(weighed) => onChange({ weighed })}
        />
      )}
      <OneOf
        name="burp"
        label={words.burp}
        choices={choicesOf(BURPS, words.burps)}
        value={choices.burp}
        onChoose={(burp) => onChange({ choices: { ...choices, burp } })}
      />
      <p class="soft hint">{words.burpHint}</p>
      <fieldset class="one-of">
        <legend>{words.hints}</legend>
        {keysOf(switches).map((key) => (
          <div key={key}>
            <OnOff
              label={switches[key]}
              on={choices[key]}
              onChange={(on) => onChange({ choices: { ...choices, [key]: on } })}
            />
            {key === 'suckRhythm' && <p class="soft small">{words.rhythmWhy}</p>}
          </div>
        ))}
      </fieldset>
    </>
  );
}

function UsualFeed({ words, draft, learnedMl, refused, onChange }: PaceFieldsProps) {
  const { unit, volume } = useChoices();
  const { usualFeedMl } = draft;
  const step = (direction: 1 | -1) => () =>
    onChange({ usualFeedMl: nextPortionMl(usualFeedMl ?? learnedMl, unit, direction) });
  const learned = learnedMl === null ? words.notLearned : words.learned(volume(learnedMl));
  return (
    <fieldset class="one-of">
      <legend>{words.usualFeed}</legend>
      <div class="portion">
        <button type="button" aria-label={`${words.usualFeed}: ${words.less}`} onClick={step(-1)}>
          −
        </button>
        <output aria-live="polite">{usualFeedMl === null ? '—' : volume(usualFeedMl)}</output>
        <button type="button" aria-label={`${words.usualFeed}: ${words.more}`} onClick={step(1)}>
          +
        </button>
      </div>
      <p class="soft">
        {usualFeedMl === null ? (
          learned
        ) : (
          <button type="button" class="wordy" onClick={() => onChange({ usualFeedMl: null })}>
            {words.learnInstead}
          </button>
        )}
      </p>
      <Trouble id="usual-feed-trouble">{troubleAt(refused, 'usualFeedMl', words)}</Trouble>
    </fieldset>
  );
}
