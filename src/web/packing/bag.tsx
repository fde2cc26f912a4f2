/** The contents of the bag: bottles drawn to scale and counted, and which milk they are filled from. */

import { useState } from 'preact/hooks';
import type { PackingAnswer } from '../../planning/bag/packing.ts';
import type { PackedPlan } from '../../planning/bag/told-plan.ts';
import type { Refused } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { RefusedNotice } from '../parts/refused-notice.tsx';
import { chanceText, counted, rangeText, whenText } from './format.ts';
import type { PackingWords } from './words.ts';

export interface BagProps {
  words: PackingWords;
  answer: PackingAnswer;
  plan: PackedPlan;
  /** The family's time zone. */
  zone: string;
  spareRule: 'last' | 'kept-apart';
  /** The plan is accepted, or its bottles are filled. @returns why that could not be stored, or null */
  onStep: (step: 'taken' | 'packed') => Promise<Refused | null>;
}

const ROLES = ['feed', 'top-up', 'spare'] as const;

export function Bag({ words, answer, plan, zone, spareRule, onStep }: BagProps) {
  const { volume } = useChoices();
  const { outcome, bottles, spareMissing } = plan;
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
      <p class="lead">
        {answer.mayClaim
          ? words.expected(volume(outcome.thrownMl), chanceText(outcome.shortChance, words))
          : words.packedPlainly(volume(outcome.thrownMl))}
      </p>
      {answer.mayClaim && <Reasons words={words} answer={answer} plan={plan} />}
      {answer.largerThanUsual && answer.mayClaim && <p class="note">{words.larger}</p>}
      {spareMissing && <p class="note">{words.spareMissing}</p>}
      {answer.asIfEnough ? (
        <p class="note">{words.asIfEnough}</p>
      ) : (
        <Filling words={words} answer={answer} plan={plan} zone={zone} onStep={onStep} />
      )}
    </section>
  );
}

/** The reasons for these bottles, what keeps the plan from meeting her limit, and the rule of thumb. */
function Reasons({ words, answer, plan }: { words: PackingWords; answer: PackingAnswer; plan: PackedPlan }) {
  const { volume, unit } = useChoices();
  const { limitedBy, oneFewer, outcome } = plan;
  const days = chanceText(outcome.shortChance, words);
  const { lowMl, highMl } = answer.ruleOfThumb;
  const onHandMl = plan.bottles.reduce((sum, { ml }) => sum + ml, 0);
  return (
    <>
      {limitedBy !== null && (
        <p class="note">{words.limited[limitedBy]({ onHand: volume(onHandMl), days })}</p>
      )}
      {limitedBy === null && oneFewer && (
        <p>{words.whyThis(volume(oneFewer.thrownMl), chanceText(oneFewer.shortChance, words))}</p>
      )}
      {(limitedBy !== null || answer.withinRuleOfThumb) && (
        <p class="soft">{words.ruleOfThumb(rangeText(lowMl, highMl, unit))}</p>
      )}
    </>
  );
}

/** Scale of the drawing, px per mL of height. */
const PX_PER_ML = 0.62;
const WIDTH = 26;
const GAP = 8;
const TALLEST = 84;

/** Solid: one for each feed. Open: only if asked for. Dotted: the spare. The list below has the same information in words. */
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

type FillingProps = Pick<BagProps, 'words' | 'answer' | 'plan' | 'zone' | 'onStep'>;

function Filling({ words, answer, plan, zone, onStep }: FillingProps) {
  const [outcome, setOutcome] = useState<Refused | 'taken' | 'packed' | null>(null);
  const { volume, language } = useChoices();
  const { bottles, rests, thawedMl, thaw, left } = plan;
  const step = async (name: 'taken' | 'packed') => setOutcome((await onStep(name)) ?? name);
  const said = { taken: words.taken, packed: words.filledNow };
  return (
    <>
      {thaw.length > 0 && (
        <p class="note">
          {words.thawTonight(
            thaw.join(', '),
            whenText(answer.takeOutAtMs, { language, zone, nowMs: Date.now() }),
          )}{' '}
          {words.thawed(volume(thawedMl))}
        </p>
      )}
      {typeof outcome === 'string' ? (
        <p role="status">{said[outcome]}</p>
      ) : (
        <button type="button" class="strong" onClick={() => void step('taken')}>
          {words.take}
        </button>
      )}
      {outcome !== null && typeof outcome !== 'string' && <RefusedNotice error={outcome} />}
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
        <ul class="plain-list">
          {(['held-back', 'time-passes', 'size-fits-less', 'comes-later'] as const).map((because) => {
            const ids = left.filter((one) => one.because === because).map(({ id }) => id);
            return (
              ids.length > 0 && <li key={because}>{words.stays(ids.join(', '), words.left[because])}</li>
            );
          })}
        </ul>
        {outcome !== 'packed' && (
          <button type="button" onClick={() => void step('packed')}>
            {words.filled}
          </button>
        )}
      </details>
    </>
  );
}
