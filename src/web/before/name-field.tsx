export interface NameFieldProps {
  id: string;
  label: string;
  hint?: string;
  value: string | null;
  /** Earlier answers, offered while typing. */
  known?: readonly string[];
  onChange: (value: string | null) => void;
}

export function NameField({ id, label, hint, value, known = [], onChange }: NameFieldProps) {
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <input
        id={id}
        type="text"
        maxLength={80}
        autocomplete="off"
        list={known.length > 0 ? `${id}-known` : undefined}
        placeholder={hint}
        value={value ?? ''}
        onInput={(event) => onChange(event.currentTarget.value === '' ? null : event.currentTarget.value)}
      />
      {known.length > 0 && (
        <datalist id={`${id}-known`}>
          {known.map((text) => (
            <option key={text} value={text} />
          ))}
        </datalist>
      )}
    </div>
  );
}
