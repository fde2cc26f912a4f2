import { useChoices } from '../parts/choices.tsx';
import { nextPortionMl } from './portion.ts';

export interface PortionFieldProps {
  portionMl: number | null;
  onChange: (portionMl: number | null) => void;
}

export function PortionField({ portionMl, onChange }: PortionFieldProps) {
  const { texts, unit, volume } = useChoices();
  const { before } = texts;
  return (
    <fieldset class="one-of">
      <legend>{before.portion}</legend>
      <div class="portion">
        <button
          type="button"
          aria-label={before.less}
          onClick={() => onChange(nextPortionMl(portionMl, unit, -1))}
        >
          −
        </button>
        <output aria-live="polite">{portionMl === null ? before.noPortion : volume(portionMl)}</output>
        <button
          type="button"
          aria-label={before.more}
          onClick={() => onChange(nextPortionMl(portionMl, unit, 1))}
        >
          +
        </button>
      </div>
      <p class="soft">
        {before.portionHint}{' '}
        {portionMl !== null && (
          <button type="button" class="wordy" onClick={() => onChange(null)}>
            {before.skipOne}
          </button>
        )}
      </p>
    </fieldset>
  );
}
