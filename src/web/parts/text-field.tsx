import type { Refused } from './ask.ts';
import { RefusedNotice } from './refused-notice.tsx';

/** A line of text, a day or a time of day. */
export interface TextFieldProps {
  id: string;
  label: string;
  text: string;
  onText: (text: string) => void;
  type?: 'text' | 'date' | 'time';
  max?: string;
  isNumber?: boolean;
  error?: Refused | null;
}

export function TextField({
  id,
  label,
  text,
  onText,
  type = 'text',
  max,
  isNumber = false,
  error,
}: TextFieldProps) {
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <input
        id={id}
        // The element types do not accept an input whose type is a union.
        {...({ type } as { type: 'text' })}
        autocomplete="off"
        value={text}
        {...(max && { max })}
        {...(isNumber && { inputMode: 'decimal' as const })}
        onInput={({ currentTarget }) => onText(currentTarget.value)}
      />
      {error && <RefusedNotice error={error} />}
    </div>
  );
}
