/** A labelled field with its error message right below. */
import type { ComponentChildren } from 'preact';
import type { Refused } from '../parts/ask.ts';
import { RefusedNotice } from '../parts/refused-notice.tsx';

export interface FieldProps {
  id: string;
  label: string;
  hint?: string;
  error?: Refused | null;
  children: ComponentChildren;
}

export function Field({ id, label, hint, error, children }: FieldProps) {
  return (
    <div class="field">
      <label for={id}>{label}</label>
      {children}
      {hint && <p class="soft hint">{hint}</p>}
      {error && <RefusedNotice error={error} />}
    </div>
  );
}

/** A number set by two buttons: fewer, more. */
export interface CountProps {
  label: string;
  shown: string;
  fewer: string;
  more: string;
  onFewer: () => void;
  onMore: () => void;
  below?: ComponentChildren;
}

export function Count({ label, shown, fewer, more, onFewer, onMore, below }: CountProps) {
  return (
    <fieldset class="one-of">
      <legend>{label}</legend>
      <div class="portion">
        <button type="button" aria-label={`${label}: ${fewer}`} onClick={onFewer}>
          −
        </button>
        <output aria-live="polite">{shown}</output>
        <button type="button" aria-label={`${label}: ${more}`} onClick={onMore}>
          +
        </button>
      </div>
      {below}
    </fieldset>
  );
}
