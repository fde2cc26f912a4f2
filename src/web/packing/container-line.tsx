/** One container: its content and time limits; its actions open on a touch. */

import type { ListedContainer } from '../../app/packing/packing-answers.ts';
import type { Language } from '../../pacing/cues/words.ts';
import type { MilkClock } from '../../planning/milk/milk-times.ts';
import type { StoredEntry } from '../../planning/milk/stored-ledger.ts';
import { useChoices } from '../parts/choices.tsx';
import { useMay } from '../parts/right.tsx';
import { milkClockText, whenText } from './format.ts';
import { sourceText } from './sources-es.ts';
import type { EnterMilk } from './use-milk.ts';
import type { PackingWords } from './words.ts';

export interface ContainerLineProps {
  words: PackingWords;
  one: ListedContainer;
  nowMs: number;
  /** The family's time zone. */
  zone: string;
  /** Time by the clock of the machine that stores the list, ms. */
  now: () => number;
  onEnter: EnterMilk;
}

type Step = keyof PackingWords['milk']['steps'];

export function ContainerLine({ words, one, nowMs, zone, now, onEnter }: ContainerLineProps) {
  const { volume, language } = useChoices();
  const { container, told, passedBeforeMove, offered, promisedTo } = one;
  const isOwner = useMay()('owner');
  const { id } = container;
  const reading = { language, zone, nowMs };
  const marks = [
    container.kind === 'expressed' ? null : words.milk.kinds[container.kind],
    offered ? words.milk.marks.offered : null,
    container.thawedAtMs === null ? null : words.milk.marks.thawed,
    container.warmedAtMs === null ? null : words.milk.marks.warmed,
    container.heldBack ? words.milk.marks['held-back'] : null,
    promisedTo === null ? null : words.milk.marks.promised,
  ].filter((mark) => mark !== null);
  const take = (step: Step) => void onEnter({ entries: [entryOf(step, id, now())] });
  return (
    <details class="container-line">
      <summary>
        <span class="container-label">{id}</span>
        <span class="feed-amount">{volume(container.volumeMl)}</span>
        <span class="feed-marks">
          {[words.milk.from(whenText(container.expressedAtMs, reading)), ...marks].join(' · ')}
        </span>
        {told.map((clock) => {
          const hasPassed = clock.passesAtMs <= nowMs;
          return (
            <span key={`${clock.source} ${clock.passesAtMs}`} class={hasPassed ? 'clock passed' : 'clock'}>
              {milkClockText(inShort(clock, language), words, reading)}
            </span>
          );
        })}
        {passedBeforeMove && <span class="clock passed">{words.milk.passedBeforeMove}</span>}
      </summary>
      <ul class="plain-list soft sources">
        {[...new Set(one.clocks.map(({ source }) => source))].map((source) => (
          <li key={source}>
            {words.source}: {sourceText(source, language)}.
          </li>
        ))}
        {one.clocks.some(({ usedBefore }) => usedBefore > 0) && <li>{words.milk.usedStaysUsed}.</li>}
      </ul>
      {isOwner && (
        <div class="milk-steps">
          {stepsOf(one).map((step) => (
            <button key={step} type="button" onClick={() => take(step)}>
              {words.milk.steps[step]}
            </button>
          ))}
        </div>
      )}
    </details>
  );
}

/** Only the first source; all are shown after a touch. */
const inShort = (clock: MilkClock, language: Language): MilkClock => ({
  ...clock,
  source: sourceText(clock.source, language).split(';')[0]!,
});

/** Actions possible from its present place. */
function stepsOf({ container, offered }: ListedContainer): Step[] {
  if (offered) return ['discard'];
  const { place, thawedAtMs, warmedAtMs, heldBack, kind } = container;
  const isFrozen = place === 'freezer' || place === 'deep-freezer';
  const steps: Step[] = [];
  if (isFrozen) steps.push('thaw');
  if (warmedAtMs === null && !(isFrozen && kind === 'formula')) steps.push('warm');
  if ((place === 'room' || place === 'cooler') && warmedAtMs === null) steps.push('fridge');
  if (place === 'fridge') steps.push('cooler');
  if (place === 'fridge' || place === 'cooler') steps.push('room', 'sleeve');
  if (!isFrozen && thawedAtMs === null && warmedAtMs === null && kind === 'expressed') steps.push('freezer');
  steps.push(heldBack ? 'release' : 'hold', 'discard');
  return steps;
}

function entryOf(step: Step, id: string, atMs: number): StoredEntry {
  switch (step) {
    case 'thaw':
      return { what: 'thawed', atMs, id };
    case 'warm':
      return { what: 'warmed', atMs, id };
    case 'hold':
    case 'release':
      return { what: 'held-back', atMs, id, on: step === 'hold' };
    case 'discard':
      return { what: 'discarded', atMs, id };
    default:
      return { what: 'stored', atMs, id, place: step };
  }
}
