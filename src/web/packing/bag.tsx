/** What goes into the bag: the bottles drawn to scale, counted, and where the milk comes from. */

import { useState } from 'preact/hooks';
import type { PackedPlan, PackingAnswer } from '../../planning/bag/packing.ts';
import type { Refused } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { FieldNote } from './field.tsx';
import { chanceText, counted } from './format.ts';
import type { PackingWords } from './words.ts';

export interface BagProps {
  words: PackingWords;
  answer: PackingAnswer;
  plan: PackedPlan;
  spareRule: 'last' | 'kept-apart';
  /** The bottles are filled. @returns why that could not be entered, or null */
  onFilled: () => Promise<Refused | null>;
}

const ROLES = ['feed', 'top-up', 'spare'] as const;

export function Bag({ words, answer, plan, spareRule, onFilled }: BagProps) {
  const { volume } = useChoices();
  const { outcome, meetsLimit, bottles, spareMissing } = plan;
  const named = (role: (typeof ROLES)[number]): string =>
    role === 'spare' && spareRule === 'kept-apart' ? words.spareApart : words.roles[role];
  return (
    <section aria-labelledby="bag-heading" class="bag">
      <h2 id="bag-heading">{words.pack(bottles.length)}</h2>
      <Bottles plan={plan} />
      <ul class="bag-list">
        {ROLES.flatMap((role) =>
          counted(bottles.filter((one) => one.role === role).map(({ ml }) => ml)).map(({ ml, count }) => (
            <li key={`${role} ${ml}`}>
              <strong>
                {count} × {volume(ml)}
              </strong>{' '}
              <span class="soft">{named(role)}</span>
            </li>
          )),
        )}
      </ul>
      <p class="lead">{words.expected(volume(outcome.thrownMl), chanceText(outcome.shortChance, words))}</p>
      {!meetsLimit && <p class="note">{words.overLimit}</p>}
      {answer.largerThanUsual && <p class="note">{words.larger}</p>}
      {spareMissing && <p class="note">{words.spareMissing}</p>}
      {answer.asIfEnough ? (
        <p class="note">{words.asIfEnough}</p>
      ) : (
        <Filling words={words} plan={plan} onFilled={onFilled} />
      )}
    </section>
  );
}

/** Height of an ounce in the drawing. */
const PX_PER_ML = 0.62;
const WIDTH = 26;
const GAP = 8;
const TALLEST = 84;

/** Solid: one for each feed. Open: only if asked. Dotted: the spare. The list below says the same in words. */
function Bottles({ plan: { bottles } }: { plan: PackedPlan }) {
  const perRow = 9;
  const rows = Math.ceil(bottles.length / perRow);
  const rowHeight = 16 + Math.min(TALLEST, PX_PER_ML * Math.max(...bottles.map(({ ml }) => ml)));
  return (
    <svg class="bottles" viewBox={`0 0 ${perRow * (WIDTH + GAP)} ${rows * rowHeight}`} aria-hidden="true">
      {bottles.map(({ role, ml }, i) => {
        const height = Math.min(TALLEST, ml * PX_PER_ML);
        const x = (i % perRow) * (WIDTH + GAP) + GAP / 2;
        const foot = Math.floor(i / perRow) * rowHeight + rowHeight - 2;
        return (
          <g key={i} data-role={role}>
            <rect x={x + 8} y={foot - height - 10} width={WIDTH - 16} height={8} rx={3} />
            <rect x={x} y={foot - height} width={WIDTH} height={height} rx={6} />
          </g>
        );
      })}
    </svg>
  );
}

interface FillingProps {
  words: PackingWords;
  plan: PackedPlan;
  onFilled: BagProps['onFilled'];
}

function Filling({ words, plan, onFilled }: FillingProps) {
  const [outcome, setOutcome] = useState<Refused | 'entered' | null>(null);
  const { volume } = useChoices();
  const { bottles, rests, thawedMl, left } = plan;
  return (
    <details>
      <summary>{words.fill}</summary>
      <ol class="filling">
        {bottles.map(({ ml, from }, i) => (
          <li key={i}>
            <strong>{volume(ml)}</strong>{' '}
            <span class="soft">{from.map((one) => `${one.id}: ${Math.round(one.ml)} mL`).join(' + ')}</span>
          </li>
        ))}
      </ol>
      {rests.map(({ id, ml }) => (
        <p key={id}>{words.rest(volume(ml), id)}</p>
      ))}
      {thawedMl > 0 && <p>{words.thawed(volume(thawedMl))}</p>}
      <ul class="plain-list">
        {(['held-back', 'time-passes', 'size-fits-less', 'comes-later'] as const).map((because) => {
          const ids = left.filter((one) => one.because === because).map(({ id }) => id);
          return ids.length > 0 && <li key={because}>{words.stays(ids.join(', '), words.left[because])}</li>;
        })}
      </ul>
      {outcome === 'entered' ? (
        <p role="status">{words.filledNow}</p>
      ) : (
        <button type="button" onClick={async () => setOutcome((await onFilled()) ?? 'entered')}>
          {words.filled}
        </button>
      )}
      {outcome !== null && outcome !== 'entered' && <FieldNote error={outcome} />}
    </details>
  );
}
