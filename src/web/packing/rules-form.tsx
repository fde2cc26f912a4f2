/** The center's rules, her own limits, and whom they call: entered once. */
import { useState } from 'preact/hooks';
import type { PackingSettings } from '../../planning/bag/packing-settings.ts';
import type { Refused } from '../parts/ask.ts';
import { RefusedNotice } from '../parts/refused-notice.tsx';
import { BagRules } from './bag-rules.tsx';
import { CenterTimes } from './center-times.tsx';
import { Field } from './field.tsx';
import { PersonFields } from './person-fields.tsx';
import type { PackingWords } from './words.ts';

export interface RulesFormProps {
  words: PackingWords;
  settings: PackingSettings;
  /** @returns why it was not stored, or null */
  onKeep: (settings: PackingSettings) => Promise<Refused | null>;
}

export function RulesForm({ words, settings, onKeep }: RulesFormProps) {
  const [draft, setDraft] = useState(settings);
  const [refused, setRefused] = useState<Refused | null>(null);
  const [isKept, setKept] = useState(false);
  const change = (part: Partial<PackingSettings>) => {
    setDraft({ ...draft, ...part });
    setKept(false);
  };
  const keep = async (event: Event) => {
    event.preventDefault();
    // These two may have been changed elsewhere on the page meanwhile, so they are left out.
    const { usualHours, shortLimit } = settings;
    const error = await onKeep({ ...withoutEmpty(draft), usualHours, shortLimit });
    setRefused(error);
    setKept(error === null);
  };
  return (
    <details class="rules">
      <summary>{words.rules}</summary>
      <form class="before" noValidate onSubmit={keep}>
        <PersonFields
          id="call"
          label={words.call}
          words={words}
          person={draft.parent}
          onChange={(parent) => change({ parent })}
        />
        <PersonFields
          id="or-call"
          label={words.orCall}
          words={words}
          person={draft.backup}
          onChange={(backup) => change({ backup })}
        />
        <BagRules words={words} draft={draft} onChange={change} />
        <Field id="leftover-rule" label={words.leftoverRule} hint={words.leftoverHint}>
          <input
            id="leftover-rule"
            type="text"
            maxLength={160}
            autocomplete="off"
            value={draft.leftoverRule ?? ''}
            onInput={(event) => change({ leftoverRule: event.currentTarget.value })}
          />
        </Field>
        <CenterTimes
          words={words}
          times={draft.centerTimes}
          onChange={(centerTimes) => change({ centerTimes })}
        />
        <Field id="own-note" label={words.notes}>
          <input
            id="own-note"
            type="text"
            maxLength={120}
            autocomplete="off"
            value={draft.notes[0] ?? ''}
            onInput={(event) => change({ notes: [event.currentTarget.value] })}
          />
        </Field>
        {refused && <RefusedNotice error={refused} />}
        <button type="submit" class="strong">
          {words.keep}
        </button>
        <p role="status">{isKept && words.kept}</p>
      </form>
    </details>
  );
}

/** Empty fields count as not given. */
function withoutEmpty(draft: PackingSettings): PackingSettings {
  const said = (text: string | null): text is string => text !== null && text.trim() !== '';
  const person = (one: PackingSettings['parent']) =>
    one && (said(one.name) || said(one.phone)) ? one : null;
  return {
    ...draft,
    parent: person(draft.parent),
    backup: person(draft.backup),
    leftoverRule: said(draft.leftoverRule) ? draft.leftoverRule : null,
    notes: draft.notes.filter(said),
  };
}
