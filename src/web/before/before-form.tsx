import type { FeedSetup, MilkKind } from '../../feed/feed.ts';
import type { Refused } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { OneOf } from '../parts/one-of.tsx';
import { RefusedNote } from '../parts/refused-note.tsx';
import { UnitChoice } from '../parts/ways.tsx';
import { BabyFields } from './baby-fields.tsx';
import type { Known } from './known.ts';
import { NameField } from './name-field.tsx';
import { PortionField } from './portion-field.tsx';

export interface BeforeFormProps {
  setup: FeedSetup;
  known: Known;
  refused: Refused | null;
  onChange: (part: Partial<FeedSetup>) => void;
  onKeep: () => void;
  onSkip: () => void;
}

const MILK_KINDS: readonly MilkKind[] = ['expressed', 'formula', 'mixed'];

export function BeforeForm({ setup, known, refused, onChange, onKeep, onSkip }: BeforeFormProps) {
  const { texts } = useChoices();
  const submit = (event: Event) => {
    event.preventDefault();
    onKeep();
  };
  return (
    <form class="before" onSubmit={submit} noValidate>
      <BabyFields setup={setup} babies={known.babies} onChange={onChange} />
      <OneOf
        name="milk"
        label={texts.before.milk}
        choices={MILK_KINDS.map((value) => ({ value, text: texts.before.milkKinds[value] }))}
        value={setup.milkKind}
        onChoose={(milkKind) => onChange({ milkKind })}
      />
      <PortionField portionMl={setup.portionMl} onChange={(portionMl) => onChange({ portionMl })} />
      <UnitChoice />
      <NameField
        id="bottle"
        label={texts.before.bottle}
        hint={texts.before.bottleHint}
        value={setup.bottleName}
        known={known.bottles}
        onChange={(bottleName) => onChange({ bottleName })}
      />
      <NameField
        id="caregiver"
        label={texts.before.caregiver}
        hint={texts.before.caregiverHint}
        value={setup.caregiver}
        known={known.caregivers}
        onChange={(caregiver) => onChange({ caregiver })}
      />
      {refused && <RefusedNote error={refused} />}
      <div class="form-end">
        <button type="button" onClick={onSkip}>
          {texts.before.skip}
        </button>
        <button type="submit" class="strong">
          {texts.before.keep}
        </button>
      </div>
    </form>
  );
}
