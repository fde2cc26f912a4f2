import type { BabyAnswer } from '../../app/babies/baby-answers.ts';
import { nameKey } from '../../base/babies.ts';
import type { FeedSetup, MilkKind, TeatFlow } from '../../feed/record/feed.ts';
import type { Refused } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { choicesOf, OneOf } from '../parts/one-of.tsx';
import { RefusedNotice } from '../parts/refused-notice.tsx';
import { UnitChoice } from '../parts/ways.tsx';
import { BabyFields } from './baby-fields.tsx';
import { KeptBabies } from './kept-babies.tsx';
import type { Known } from './known.ts';
import { NameField } from './name-field.tsx';
import { PortionField } from './portion-field.tsx';
import { StudyField } from './study-field.tsx';
import { Together } from './together.tsx';
import { BEFORE_WORDS } from './words.ts';

export interface BeforeFormProps {
  setup: FeedSetup;
  known: Known;
  /** Null if no babies are stored. */
  babies: readonly BabyAnswer[] | null;
  sleeve: string;
  refused: Refused | null;
  onChange: (part: Partial<FeedSetup>) => void;
  onKeep: () => void;
  onSkip: () => void;
}

const TEAT_FLOWS: readonly TeatFlow[] = ['slow', 'medium', 'fast'];
const MILK_KINDS: readonly MilkKind[] = ['expressed', 'formula', 'mixed'];

export function BeforeForm({
  setup,
  known,
  babies,
  sleeve,
  refused,
  onChange,
  onKeep,
  onSkip,
}: BeforeFormProps) {
  const { texts, language } = useChoices();
  const words = BEFORE_WORDS[language];
  const isKept = babies?.some(({ baby }) => baby.id === setup.babyId) ?? false;
  const submit = (event: Event) => {
    event.preventDefault();
    onKeep();
  };
  return (
    <form class="before" onSubmit={submit} noValidate>
      {babies && <KeptBabies setup={setup} babies={babies} onChange={onChange} />}
      {!isKept && (
        <BabyFields
          setup={setup}
          babies={babies?.length ? [] : known.babies}
          isAsked={!!babies?.length}
          onChange={onChange}
        />
      )}
      <OneOf
        name="milk"
        label={texts.before.milk}
        choices={choicesOf(MILK_KINDS, texts.before.milkKinds)}
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
        id="teat"
        label={words.teat}
        hint={words.teatHint}
        value={setup.teatName ?? null}
        known={known.teats}
        onChange={(teatName) => {
          const teatFlow = teatName === null ? undefined : known.teatFlows[nameKey(teatName)];
          onChange(teatFlow ? { teatName, teatFlow } : { teatName });
        }}
      />
      <OneOf
        name="teat-flow"
        label={words.teatFlow}
        choices={[
          ...choicesOf(TEAT_FLOWS, words.teatFlows),
          { value: 'unknown' as const, text: words.teatFlows.unknown },
        ]}
        value={setup.teatFlow ?? 'unknown'}
        onChoose={(value) => onChange({ teatFlow: value === 'unknown' ? null : value })}
      />
      <p class="soft">{words.teatFlowHint}</p>
      <NameField
        id="caregiver"
        label={texts.before.caregiver}
        hint={texts.before.caregiverHint}
        value={setup.caregiver}
        known={known.caregivers}
        onChange={(caregiver) => onChange({ caregiver })}
      />
      <StudyField setup={setup} onChange={onChange} />
      <Together setup={setup} sleeve={sleeve} />
      {refused && <RefusedNotice error={refused} />}
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
