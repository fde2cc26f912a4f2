/** Two or three plans to choose from: with more milk thrown away, or running short more often. One touch switches. */
import type { Choice } from '../../planning/bag/bottles.ts';
import type { PackedPlan } from '../../planning/bag/told-plan.ts';
import { useChoices } from '../parts/choices.tsx';
import { chanceText, counted } from './format.ts';
import type { PackingWords } from './words.ts';

export interface ChoicesNoticeProps {
  words: PackingWords;
  plan: PackedPlan;
  shortLimit: number;
  onChoose: (shortLimit: number) => void;
}

export function ChoicesNotice({ words, plan, shortLimit, onChoose }: ChoicesNoticeProps) {
  const { volume } = useChoices();
  if (plan.choices.length < 2) return null;
  const isThis = (one: Choice): boolean =>
    one.sizesMl.length === plan.bottles.length && one.shortChance === plan.outcome.shortChance;
  return (
    <section class="choices" aria-labelledby="choices-heading">
      <h2 id="choices-heading">{words.choices}</h2>
      {plan.choices.map((one) => (
        <button
          key={one.shortLimit}
          type="button"
          class="choice"
          aria-pressed={isThis(one)}
          onClick={() => one.shortLimit !== shortLimit && onChoose(one.shortLimit)}
        >
          <strong>
            {counted(one.sizesMl)
              .map(({ ml, count }) => `${count} × ${volume(ml)}`)
              .join(' + ')}
          </strong>
          <span>{words.expected(volume(one.thrownMl), chanceText(one.shortChance, words))}</span>
        </button>
      ))}
    </section>
  );
}
