/** A labelled field, with what is wrong with it right below. */
import type { ComponentChildren } from 'preact';

export interface FieldProps {
  id: string;
  label: string;
  hint?: string;
  trouble: string | null;
  value: string;
  type?: 'text' | 'date';
  inputMode?: 'decimal' | 'numeric';
  onChange: (value: string) => void;
}

export function Field({ id, label, hint, trouble, value, type = 'text', inputMode, onChange }: FieldProps) {
  const about = [hint && `${id}-hint`, trouble && `${id}-trouble`].filter(Boolean).join(' ');
  const common = {
    id,
    autocomplete: 'off' as const,
    value,
    'aria-invalid': trouble !== null,
    'aria-describedby': about || undefined,
    onInput: (event: { currentTarget: HTMLInputElement }) => onChange(event.currentTarget.value),
  };
  return (
    <div class="field">
      <label for={id}>{label}</label>
      {type === 'date' ? (
        <input type="date" {...common} />
      ) : (
        <input type="text" inputMode={inputMode} maxLength={80} {...common} />
      )}
      {hint && (
        <p class="soft" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      <Trouble id={`${id}-trouble`}>{trouble}</Trouble>
    </div>
  );
}

export function Trouble({ id, children }: { id: string; children: ComponentChildren }) {
  return children ? (
    <p class="refused" id={id} role="alert">
      {children}
    </p>
  ) : null;
}

/** One thing that is on or off. */
export function OnOff({
  label,
  on,
  onChange,
}: {
  label: string;
  on: boolean;
  onChange: (on: boolean) => void;
}) {
  return (
    <label class="on-off">
      <input type="checkbox" checked={on} onChange={(event) => onChange(event.currentTarget.checked)} />
      <span>{label}</span>
    </label>
  );
}
