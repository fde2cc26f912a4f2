/** New milk: how much, when, where it is. */
import { useState } from 'preact/hooks';
import type { MilkKind } from '../../planning/milk/milk.ts';
import type { Place } from '../../planning/milk/places.ts';
import { nextPortionMl } from '../before/portion.ts';
import type { Refused } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { choicesOf, OneOf } from '../parts/one-of.tsx';
import { RefusedNotice } from '../parts/refused-notice.tsx';
import { Count, Field } from './field.tsx';
import { instantOfWall, wallMinute } from './format.ts';
import type { EnterMilk } from './use-milk.ts';
import type { PackingWords } from './words.ts';

const PLACES: readonly Place[] = ['fridge', 'freezer', 'deep-freezer', 'cooler', 'room'];
const MILK_KINDS: readonly MilkKind[] = ['expressed', 'formula', 'mixed'];
const FIRST_ML = 60;

export interface AddMilkProps {
  words: PackingWords;
  nextLabel: string;
  /** The family's time zone. */
  zone: string;
  now: () => number;
  onEnter: EnterMilk;
}

export function AddMilk({ words, nextLabel, zone, now, onEnter }: AddMilkProps) {
  const { unit, volume } = useChoices();
  const [ml, setMl] = useState<number>(nextPortionMl(FIRST_ML, unit, 1) ?? FIRST_ML);
  const [when, setWhen] = useState(() => wallMinute(now(), zone));
  const [place, setPlace] = useState<Place>('fridge');
  const [kind, setKind] = useState<MilkKind>('expressed');
  const [label, setLabel] = useState(nextLabel);
  const [refused, setRefused] = useState<Refused | null>(null);
  const at = (field: string): Refused | null => (refused?.field === field ? refused : null);
  const step = (direction: 1 | -1) => setMl(nextPortionMl(ml, unit, direction) ?? ml);
  const enter = async (event: Event) => {
    event.preventDefault();
    setRefused(
      await onEnter({
        // The server refuses an empty date, with a message at the field.
        entries: [{ what: 'got', atMs: instantOfWall(when, zone) ?? -1, id: label, kind, ml, place }],
      }),
    );
  };
  const isElsewhere = refused !== null && !['ml', 'atMs', 'place', 'id'].includes(refused.field ?? '');
  return (
    <details class="add-milk">
      <summary>{words.milk.add}</summary>
      <form class="before" noValidate onSubmit={enter}>
        <Count
          label={words.milk.amount}
          shown={volume(ml)}
          fewer="−"
          more="+"
          onFewer={() => step(-1)}
          onMore={() => step(1)}
          below={at('ml') && <RefusedNotice error={at('ml')!} />}
        />
        <Field id="milk-when" label={words.milk.when} error={at('atMs')}>
          <input
            id="milk-when"
            type="datetime-local"
            value={when}
            onInput={(event) => setWhen(event.currentTarget.value)}
          />
        </Field>
        <OneOf
          name="place"
          label={words.milk.place}
          choices={choicesOf(PLACES, words.milk.places)}
          value={place}
          onChoose={setPlace}
        />
        {at('place') && <RefusedNotice error={at('place')!} />}
        <OneOf
          name="kind"
          label={words.milk.kind}
          choices={choicesOf(MILK_KINDS, words.milk.kinds)}
          value={kind}
          onChoose={setKind}
        />
        <Field id="milk-label" label={words.milk.label} error={at('id')}>
          <input
            id="milk-label"
            type="text"
            maxLength={80}
            autocomplete="off"
            value={label}
            onInput={(event) => setLabel(event.currentTarget.value)}
          />
        </Field>
        {isElsewhere && <RefusedNotice error={refused} />}
        <button type="submit" class="strong">
          {words.milk.enter}
        </button>
      </form>
    </details>
  );
}
