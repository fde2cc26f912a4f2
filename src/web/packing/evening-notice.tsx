/** In the evening: what came back of each bottle, one touch each, and whether there was enough. */
import type { Evening } from '../../app/packing/packing-answers.ts';
import type { StoredEntry } from '../../planning/milk/stored-ledger.ts';
import { useChoices } from '../parts/choices.tsx';
import { shortDayText } from './format.ts';
import type { EnterMilk } from './use-milk.ts';
import type { PackingWords } from './words.ts';

export interface EveningNoticeProps {
  words: PackingWords;
  evening: Evening;
  /** The family's time zone. */
  zone: string;
  now: () => number;
  onEnter: EnterMilk;
}

/** Answers that can be read at a glance, as the share left in the bottle. */
const ANSWERS = [
  { name: 'emptied', leftShare: 0 },
  { name: 'little', leftShare: 0.25 },
  { name: 'half', leftShare: 0.5 },
  { name: 'unopened', leftShare: null },
] as const;
type Answer = (typeof ANSWERS)[number];

export function EveningNotice({ words, evening, zone, now, onEnter }: EveningNoticeProps) {
  const { volume, language } = useChoices();
  const { plan, babyName, fromMs, bottles, short } = evening;
  const says = words.milk.evening;
  const heading = `evening-${plan.replaceAll(/\W/g, '-')}`;
  const send = (...entries: StoredEntry[]) => void onEnter({ entries });
  return (
    <section class="evening" aria-labelledby={heading}>
      <h2 id={heading}>{says.heading(shortDayText(fromMs, { language, zone }), babyName)}</h2>
      {bottles.map(({ id, ml }) => (
        <fieldset key={id} class="came-back">
          <legend>
            {id} <span class="soft">{volume(ml)}</span>
          </legend>
          {ANSWERS.map((answer) => (
            <button key={answer.name} type="button" onClick={() => send(entryOf(answer, id, ml, now()))}>
              {says.answers[answer.name]}
            </button>
          ))}
        </fieldset>
      ))}
      {bottles.length > 1 && (
        <button
          type="button"
          onClick={() => send(...bottles.map(({ id, ml }) => entryOf(ANSWERS[0], id, ml, now())))}
        >
          {says.allEmptied}
        </button>
      )}
      {short === null && (
        <fieldset class="came-back">
          <legend>{says.question}</legend>
          {([false, true] as const).map((ranShort) => (
            <button
              key={String(ranShort)}
              type="button"
              onClick={() => send({ what: 'went', atMs: now(), plan, short: ranShort })}
            >
              {ranShort ? says.short : says.enough}
            </button>
          ))}
        </fieldset>
      )}
      <p class="soft">{says.learns}</p>
    </section>
  );
}

function entryOf({ leftShare }: Answer, id: string, ml: number, atMs: number): StoredEntry {
  const what = 'came-back' as const;
  if (leftShare === null) return { what, atMs, id, how: 'unopened' };
  return leftShare === 0
    ? { what, atMs, id, how: 'emptied' }
    : { what, atMs, id, how: 'left', leftMl: Math.round(10 * ml * leftShare) / 10 };
}
