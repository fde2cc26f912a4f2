/** An amount as read from a bottle: a number in the chosen unit, the other unit shown below. */
import { flOzFromMl, mlFromFlOz, type VolumeUnit } from '../../base/units.ts';
import type { Refused } from '../parts/ask.ts';
import { UNIT_SIGN, useChoices } from '../parts/choices.tsx';
import { RefusedNotice } from '../parts/refused-notice.tsx';

/** Reads "2.5", "2,5" or "2½". @returns mL; null for empty text; NaN for what is not a number */
export function mlOf(text: string, unit: VolumeUnit): number | null {
  const plain = text
    .trim()
    .replace(',', '.')
    .replace(/^(\d*)\s*([¼½¾])$/, (_, whole: string, mark: string) =>
      String(Number(whole) + QUARTERS[mark]!),
    );
  if (plain === '') return null;
  const amount = /^\d*\.?\d+$|^\d+\.$/.test(plain) ? Number(plain) : Number.NaN;
  return unit === 'ml' ? amount : mlFromFlOz(amount);
}

const QUARTERS: Record<string, number> = { '¼': 0.25, '½': 0.5, '¾': 0.75 };

/** Text of an amount in the field. */
export const fieldText = (ml: number | null, unit: VolumeUnit): string =>
  ml === null ? '' : String(Number((unit === 'ml' ? ml : flOzFromMl(ml)).toFixed(2)));

export interface AmountFieldProps {
  id: string;
  label: string;
  text: string;
  onText: (text: string) => void;
  error?: Refused | null | undefined;
}

export function AmountField({ id, label, text, onText, error }: AmountFieldProps) {
  const { unit, volume } = useChoices();
  const ml = mlOf(text, unit);
  return (
    <div class="field">
      <label for={id}>
        {label}, {UNIT_SIGN[unit]}
      </label>
      <input
        id={id}
        inputMode="decimal"
        autocomplete="off"
        value={text}
        aria-describedby={`${id}-also`}
        onInput={({ currentTarget }) => onText(currentTarget.value)}
      />
      <p class="soft hint" id={`${id}-also`}>
        {ml !== null && !Number.isNaN(ml) ? volume(ml) : ' '}
      </p>
      {error && <RefusedNotice error={error} />}
    </div>
  );
}

export interface BottleAmountsProps {
  /** Labels of the two fields. */
  words: { offered: string; left: string };
  offered: string;
  left: string;
  onOffered: (text: string) => void;
  onLeft: (text: string) => void;
  refused: Refused | null;
}

/** The amount offered and the amount left. */
export function BottleAmounts({ words, offered, left, onOffered, onLeft, refused }: BottleAmountsProps) {
  const at = (field: string) => (refused?.field === field ? refused : null);
  return (
    <div class="side-by-side">
      <AmountField
        id="offered"
        label={words.offered}
        text={offered}
        onText={onOffered}
        error={at('offeredMl')}
      />
      <AmountField id="left" label={words.left} text={left} onText={onLeft} error={at('leftMl')} />
    </div>
  );
}
