/** Asks for a feed that has ended which bottle it was from. Nothing is stored without an answer. */
import { useState } from 'preact/hooks';
import type { MilkAnswer } from '../../app/packing/packing-answers.ts';
import type { Proposal } from '../../planning/milk/stored-ledger.ts';
import { useChoices } from '../parts/choices.tsx';
import { OneOf } from '../parts/one-of.tsx';
import { whenText } from './format.ts';
import type { EnterMilk } from './use-milk.ts';
import type { PackingWords } from './words.ts';

export interface ProposedFeedProps {
  words: PackingWords;
  proposal: Proposal;
  milk: MilkAnswer;
  onEnter: EnterMilk;
}

const MOST_SHOWN = 4;

export function ProposedFeed({ words, proposal, milk, onEnter }: ProposedFeedProps) {
  const { volume, language } = useChoices();
  const { feed, startedAtMs, leftBottleMl, candidates } = proposal;
  const [container, setContainer] = useState(candidates[0]!);
  const chosen = candidates.includes(container) ? container : candidates[0]!;
  const amountOf = (id: string): number =>
    milk.containers.find((one) => one.container.id === id)?.container.volumeMl ?? 0;
  return (
    <section class="proposal">
      <OneOf
        name={`bottle-of-${feed}`}
        label={words.milk.proposal(
          whenText(startedAtMs, { language, zone: milk.zone, nowMs: milk.nowMs }),
          volume(leftBottleMl),
        )}
        choices={candidates
          .slice(0, MOST_SHOWN)
          .map((id) => ({ value: id, text: `${id}: ${volume(amountOf(id))}` }))}
        value={chosen}
        onChoose={setContainer}
      />
      <button type="button" onClick={() => void onEnter({ confirm: { feed, container: chosen } })}>
        {words.milk.confirm}
      </button>
    </section>
  );
}
