/** The center's rules, her own limits, and whom they call: set once. */
import { useState } from 'preact/hooks';
import { mlFromFlOz } from '../../base/units.ts';
import type { PackingSettings } from '../../planning/bag/packing-settings.ts';
import type { Refused } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { OneOf } from '../parts/one-of.tsx';
import { RefusedNote } from '../parts/refused-note.tsx';
import { CenterTimes } from './center-times.tsx';
import { Count, Field } from './field.tsx';
import { PersonFields } from './person-fields.tsx';
import type { PackingWords } from './words.ts';

export interface RulesFormProps {
  words: PackingWords;
  settings: PackingSettings;
  /** @returns why not, or null */
  onKeep: (settings: PackingSettings) => Promise<Refused | null>;
}

const SPARES_FL_OZ = [1, 1.5, 2];
const MOST = 24;
const FIRST_MOST = 5;
const PRICES_ML = { none: 0, usual: 12, high: 30 } as const;

export function RulesForm({ words, settings, onKeep }: RulesFormProps) {
  const { volume } = useChoices();
  const [draft, setDraft] = useState(settings);
  const [refused, setRefused] = useState<Refused | null>(null);
  const [isKept, setKept] = useState(false);
  const change = (part: Partial<PackingSettings>) => {
    setDraft({ ...draft, ...part });
    setKept(false);
  };
  const keep = async (event: Event) => {
    event.preventDefault();
    // What was set elsewhere on the page meanwhile stays as it is there.
    const { usualHours, shortLimit } = settings;
    const error = await onKeep({ ...withoutEmpty(draft), usualHours, shortLimit });
    setRefused(error);
    setKept(error === null);
  };
  const { spare } = draft;
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
        <Count
          label={words.mostBottles}
          shown={draft.mostBottles === null ? words.twoMore : String(draft.mostBottles)}
          fewer={words.fewer}
          more={words.more}
          onFewer={() => change({ mostBottles: Math.max(1, (draft.mostBottles ?? FIRST_MOST) - 1) })}
          onMore={() => change({ mostBottles: Math.min(MOST, (draft.mostBottles ?? FIRST_MOST) + 1) })}
        />
        <OneOf
          name="bottle-price"
          label={words.bottlePrice}
          choices={(['none', 'usual', 'high'] as const).map((value) => ({
            value,
            text: words.bottlePrices[value],
          }))}
          value={draft.bottlePriceMl < 4 ? 'none' : draft.bottlePriceMl < 21 ? 'usual' : 'high'}
          onChoose={(value) => change({ bottlePriceMl: PRICES_ML[value] })}
        />
        <OneOf
          name="pouring"
          label={words.pouring}
          choices={(['at-home', 'none'] as const).map((value) => ({
            value,
            text: words.pouringChoices[value],
          }))}
          value={draft.pouring}
          onChoose={(pouring) => change({ pouring })}
        />
        <OneOf
          name="unopened"
          label={words.unopened}
          choices={(['comes-back', 'thrown-away'] as const).map((value) => ({
            value,
            text: words.unopenedChoices[value],
          }))}
          value={draft.unopened}
          onChoose={(unopened) => change({ unopened })}
        />
        <OneOf
          name="spare"
          label={words.spare}
          choices={[
            { value: 'none', text: words.noSpare },
            ...SPARES_FL_OZ.map((flOz) => ({ value: String(flOz), text: volume(mlFromFlOz(flOz)) })),
          ]}
          value={spare ? String(nearestSpare(spare.ml)) : 'none'}
          onChoose={(value) =>
            change({
              spare: value === 'none' ? null : { ml: mlFromFlOz(Number(value)), rule: spare?.rule ?? 'last' },
            })
          }
        />
        {spare && (
          <OneOf
            name="spare-rule"
            label={words.spareRule}
            choices={(['last', 'kept-apart'] as const).map((value) => ({
              value,
              text: words.spareRules[value],
            }))}
            value={spare.rule}
            onChoose={(rule) => change({ spare: { ...spare, rule } })}
          />
        )}
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
        {refused && <RefusedNote error={refused} />}
        <button type="submit" class="strong">
          {words.keep}
        </button>
        <p role="status">{isKept && words.kept}</p>
      </form>
    </details>
  );
}

const nearestSpare = (ml: number): number =>
  SPARES_FL_OZ.reduce((best, one) =>
    Math.abs(mlFromFlOz(one) - ml) < Math.abs(mlFromFlOz(best) - ml) ? one : best,
  );

/** What was left empty was not said. */
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
