/** A clinician's plan, entered as it was given. */
import type { BabiesAnswer } from '../../app/babies/baby-answers.ts';
import { flOzFromMl } from '../../base/units.ts';
import type { Refused } from '../parts/ask.ts';
import { OneOf } from '../parts/one-of.tsx';
import { type Draft, FIGURE_FIELDS, type FigureName, NEW_PLAN, type PlanDraft, troubleAt } from './draft.ts';
import { Field, OnOff } from './field.tsx';
import type { BabyWords } from './words.ts';

export interface PlanFieldsProps {
  words: BabyWords;
  plan: Draft['plan'];
  figures: BabiesAnswer['planFigures'];
  refused: Refused | null;
  onChange: (plan: Draft['plan']) => void;
}

export function PlanFields({ words, plan, figures, refused, onChange }: PlanFieldsProps) {
  return (
    <>
      <OneOf
        name="has-plan"
        label={words.plan}
        choices={[
          { value: 'no', text: words.planOff },
          { value: 'yes', text: words.planOn },
        ]}
        value={plan ? 'yes' : 'no'}
        onChoose={(value) => onChange(value === 'yes' ? NEW_PLAN : null)}
      />
      {plan && <PlanFigures {...{ words, plan, figures, refused }} onChange={onChange} />}
    </>
  );
}

function PlanFigures({ words, plan, figures, refused, onChange }: PlanFieldsProps & { plan: PlanDraft }) {
  const change = (part: Partial<PlanDraft>) => onChange({ ...plan, ...part });
  const inOunces = (name: FigureName, of: 'rate' | 'amount') => {
    const ml = Number(plan[name].replace(',', '.'));
    return plan[name].trim() !== '' && ml > 0 ? ` · ${words.inOunces[of](flOzFromMl(ml).toFixed(2))}` : '';
  };
  const figure = (name: FigureName, label: string, of?: 'rate' | 'amount') => (
    <Field
      id={`plan-${name}`}
      label={label}
      hint={words.range(figures[name].min, figures[name].max) + (of ? inOunces(name, of) : '')}
      inputMode="decimal"
      value={plan[name]}
      trouble={troubleAt(refused, FIGURE_FIELDS[name], words)}
      onChange={(value) => change({ [name]: value })}
    />
  );
  return (
    <>
      <p>{words.planIntro}</p>
      <Field
        id="plan-from"
        label={words.planFrom}
        hint={words.planFromHint}
        value={plan.from}
        trouble={troubleAt(refused, 'plan.from', words)}
        onChange={(from) => change({ from })}
      />
      <fieldset class="one-of">
        <legend>{words.lasting}</legend>
        <p class="soft">{words.lastingHint}</p>
        <div class="side-by-side">
          {figure('lastingRate', words.rate, 'rate')}
          {figure('lastingDepth', words.depth, 'amount')}
        </div>
      </fieldset>
      <fieldset class="one-of">
        <legend>{words.pouring}</legend>
        <p class="soft">{words.pouringHint}</p>
        <div class="side-by-side">
          {figure('pouringRate', words.rate, 'rate')}
          {figure('pouringDepth', words.depth, 'amount')}
        </div>
      </fieldset>
      <OnOff label={words.rhythm} on={plan.hasRhythm} onChange={(hasRhythm) => change({ hasRhythm })} />
      {plan.hasRhythm && (
        <div class="side-by-side">
          {figure('sucks', words.sucks)}
          {figure('pauseSec', words.pauseSec)}
        </div>
      )}
      <OnOff label={words.enough} on={plan.enough} onChange={(enough) => change({ enough })} />
    </>
  );
}
