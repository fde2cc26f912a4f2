import { sameName } from '../../base/babies.ts';
import type { FeedSetup } from '../../feed/record/feed.ts';
import { useChoices } from '../parts/choices.tsx';
import type { Baby } from './known.ts';
import { NameField } from './name-field.tsx';

export interface BabyFieldsProps {
  setup: FeedSetup;
  babies: readonly Baby[];
  /** The question is shown above already. */
  isAsked: boolean;
  onChange: (part: Partial<FeedSetup>) => void;
}

/** Known babies, each chosen by one touch; name and date of birth for another one. */
export function BabyFields({ setup, babies, isAsked, onChange }: BabyFieldsProps) {
  const { texts } = useChoices();
  const isKnown = babies.some(({ babyName }) => sameName(babyName, setup.babyName));
  return (
    <fieldset class="one-of">
      <legend class={isAsked ? 'for-ears' : undefined}>
        {isAsked ? texts.before.otherBaby : texts.before.baby}
      </legend>
      {babies.length > 0 && (
        <div class="one-of-row">
          {babies.map((baby) => (
            <label key={baby.babyName}>
              <input
                type="radio"
                name="baby"
                checked={sameName(baby.babyName, setup.babyName)}
                onChange={() => onChange(baby)}
              />
              <span>{baby.babyName}</span>
            </label>
          ))}
          <label>
            <input
              type="radio"
              name="baby"
              checked={!isKnown}
              onChange={() => onChange({ babyName: null, babyBirthDate: null })}
            />
            <span>{texts.before.otherBaby}</span>
          </label>
        </div>
      )}
      <div class="side-by-side">
        <NameField
          id="baby-name"
          label={texts.before.name}
          value={setup.babyName}
          onChange={(babyName) => onChange({ babyName })}
        />
        <div class="field">
          <label for="baby-born">{texts.before.born}</label>
          <input
            id="baby-born"
            type="date"
            value={setup.babyBirthDate ?? ''}
            onInput={(event) => onChange({ babyBirthDate: event.currentTarget.value || null })}
          />
        </div>
      </div>
    </fieldset>
  );
}
