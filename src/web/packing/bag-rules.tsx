/** Her own preferences for a bag: number of bottles, effort of each, milk thrown away, milk brought back, the spare. */
import { mlFromFlOz } from '../../base/units.ts';
import type { PackingSettings } from '../../planning/bag/packing-settings.ts';
import { useChoices } from '../parts/choices.tsx';
import { choicesOf, OneOf } from '../parts/one-of.tsx';
import { Count } from './field.tsx';
import type { PackingWords } from './words.ts';

const SPARES_FL_OZ = [1, 1.5, 2];
const MOST = 24;
const FIRST_MOST = 5;
const PRICES_ML = { none: 0, usual: 12, high: 30 } as const;

export interface BagRulesProps {
  words: PackingWords;
  draft: PackingSettings;
  onChange: (part: Partial<PackingSettings>) => void;
}

export function BagRules({ words, draft, onChange }: BagRulesProps) {
  const { volume } = useChoices();
  const { spare } = draft;
  return (
    <>
      <Count
        label={words.mostBottles}
        shown={draft.mostBottles === null ? words.twoMore : String(draft.mostBottles)}
        fewer={words.fewer}
        more={words.more}
        onFewer={() => onChange({ mostBottles: Math.max(1, (draft.mostBottles ?? FIRST_MOST) - 1) })}
        onMore={() => onChange({ mostBottles: Math.min(MOST, (draft.mostBottles ?? FIRST_MOST) + 1) })}
      />
      <OneOf
        name="bottle-price"
        label={words.bottlePrice}
        choices={choicesOf(['none', 'usual', 'high'], words.bottlePrices)}
        value={draft.bottlePriceMl < 4 ? 'none' : draft.bottlePriceMl < 21 ? 'usual' : 'high'}
        onChoose={(value) => onChange({ bottlePriceMl: PRICES_ML[value] })}
      />
      <OneOf
        name="pouring"
        label={words.pouring}
        choices={choicesOf(['at-home', 'none'], words.pouringChoices)}
        value={draft.pouring}
        onChoose={(pouring) => onChange({ pouring })}
      />
      <OneOf
        name="unopened"
        label={words.unopened}
        choices={choicesOf(['comes-back', 'thrown-away'], words.unopenedChoices)}
        value={draft.unopened}
        onChoose={(unopened) => onChange({ unopened })}
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
          onChange({
            spare: value === 'none' ? null : { ml: mlFromFlOz(Number(value)), rule: spare?.rule ?? 'last' },
          })
        }
      />
      {spare && (
        <OneOf
          name="spare-rule"
          label={words.spareRule}
          choices={choicesOf(['last', 'kept-apart'], words.spareRules)}
          value={spare.rule}
          onChoose={(rule) => onChange({ spare: { ...spare, rule } })}
        />
      )}
    </>
  );
}

const nearestSpare = (ml: number): number =>
  SPARES_FL_OZ.reduce((best, one) =>
    Math.abs(mlFromFlOz(one) - ml) < Math.abs(mlFromFlOz(best) - ml) ? one : best,
  );
