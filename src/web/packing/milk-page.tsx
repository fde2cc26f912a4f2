/** Milk on hand in the order to use it, with time limits; changes are entered by touch. */
import type { MilkAnswer } from '../../app/packing/packing-answers.ts';
import type { Place } from '../../planning/milk/places.ts';
import type { Guard } from '../live/guard.ts';
import { useJson } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { ReadingPage } from '../parts/reading-page.tsx';
import { RefusedNotice } from '../parts/refused-notice.tsx';
import { useMay } from '../parts/right.tsx';
import { addressOf } from '../parts/route.ts';
import { UnitChoice } from '../parts/ways.tsx';
import { AddMilk } from './add-milk.tsx';
import { ContainerLine } from './container-line.tsx';
import { Entered } from './entered.tsx';
import { EveningNotice } from './evening-notice.tsx';
import { ProposedFeed } from './proposed-feed.tsx';
import { type EnterMilk, useMilk } from './use-milk.ts';
import { PACKING_WORDS, type PackingWords } from './words.ts';

export function MilkPage({ guard }: { guard: Guard }) {
  const { language, texts } = useChoices();
  const words = PACKING_WORDS[language];
  const milk = useJson<MilkAnswer>('/milk');
  return (
    <ReadingPage title={words.milk.title} page="milk" guard={guard}>
      {guard.view?.simulated && <p class="simulated">{texts.live.simulated}</p>}
      {milk.state === 'refused' && <RefusedNotice error={milk.error} />}
      {milk.state === 'here' && <MilkList words={words} first={milk.answer} />}
    </ReadingPage>
  );
}

/** Proposals shown at once: those of the latest feeds. */
const MOST_PROPOSED = 2;

const PLACES: readonly Place[] = ['sleeve', 'room', 'cooler', 'fridge', 'freezer', 'deep-freezer'];

function MilkList({ words, first }: { words: PackingWords; first: MilkAnswer }) {
  const { volume } = useChoices();
  const isOwner = useMay()('owner');
  const { milk, now, enter, enterHere, refused } = useMilk(first);
  const { containers, proposals, totals, leftOut } = milk;
  return (
    <div class="packing">
      <p class="soft">{containers.length === 0 ? words.milk.none : words.milk.intro}</p>
      {isOwner &&
        milk.evenings.map((evening) => (
          <EveningNotice
            key={evening.plan}
            words={words}
            evening={evening}
            zone={milk.zone}
            now={now}
            onEnter={enterHere}
          />
        ))}
      {refused && <RefusedNotice error={refused} />}
      <Places words={words} milk={milk} now={now} onEnter={enterHere} />
      {isOwner &&
        proposals
          .slice(0, MOST_PROPOSED)
          .map((proposal) => (
            <ProposedFeed
              key={proposal.feed}
              words={words}
              proposal={proposal}
              milk={milk}
              onEnter={enterHere}
            />
          ))}
      {isOwner && (
        <AddMilk
          key={milk.nextLabel}
          words={words}
          nextLabel={milk.nextLabel}
          zone={milk.zone}
          now={now}
          onEnter={enter}
        />
      )}
      <p>{words.milk.totals(volume(totals.gotMl), volume(totals.fedMl), volume(totals.discardedMl))}</p>
      {leftOut.length > 0 && <p class="note">{words.milk.leftOut(leftOut.length)}</p>}
      <p class="soft">{words.milk.caution}</p>
      <Entered words={words} lines={milk.lines} zone={milk.zone} now={now} onEnter={enterHere} />
      {isOwner && (
        <a class="strong" href={addressOf({ page: 'packing' })}>
          {words.milk.toPacking}
        </a>
      )}
      <UnitChoice />
    </div>
  );
}

interface PlacesProps {
  words: PackingWords;
  milk: MilkAnswer;
  now: () => number;
  onEnter: EnterMilk;
}

/** The containers, grouped by place. */
function Places({ words, milk, now, onEnter }: PlacesProps) {
  return PLACES.map((place) => {
    const there = milk.containers.filter(({ container }) => container.place === place);
    return (
      there.length > 0 && (
        <section key={place} aria-labelledby={`place-${place}`}>
          <h2 id={`place-${place}`}>{words.milk.places[place]}</h2>
          {there.map((one) => (
            <ContainerLine
              key={one.container.id}
              words={words}
              one={one}
              nowMs={milk.nowMs}
              zone={milk.zone}
              now={now}
              onEnter={onEnter}
            />
          ))}
        </section>
      )
    );
  });
}
