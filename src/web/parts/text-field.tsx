import type { Refused } from './ask.ts';
import { RefusedNotice } from './refused-notice.tsx';

/** One line of text, a day or a time of day. */
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
        // The types of the elements know no input that is one of several.
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
