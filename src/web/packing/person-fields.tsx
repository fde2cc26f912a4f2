import type { PackingSettings } from '../../planning/bag/packing-settings.ts';
import type { PackingWords } from './words.ts';

type Person = NonNullable<PackingSettings['parent']>;

export interface PersonFieldsProps {
  id: string;
  label: string;
  words: PackingWords;
  person: Person | null;
  onChange: (person: Person) => void;
}

const NOBODY: Person = { name: '', phone: '' };

export function PersonFields({ id, label, words, person, onChange }: PersonFieldsProps) {
  const one = person ?? NOBODY;
  return (
    <fieldset class="one-of">
      <legend>{label}</legend>
      <div class="side-by-side">
        <div class="field">
          <label for={`${id}-name`}>{words.callName}</label>
          <input
            id={`${id}-name`}
            type="text"
            maxLength={40}
            autocomplete="off"
            value={one.name}
            onInput={(event) => onChange({ ...one, name: event.currentTarget.value })}
          />
        </div>
        <div class="field">
          <label for={`${id}-phone`}>{words.callPhone}</label>
          <input
            id={`${id}-phone`}
            type="tel"
            maxLength={30}
            autocomplete="off"
            value={one.phone}
            onInput={(event) => onChange({ ...one, phone: event.currentTarget.value })}
          />
        </div>
      </div>
    </fieldset>
  );
}
