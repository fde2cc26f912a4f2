/** A field for free text. */
export interface NoteFieldProps {
  label: string;
  hint: string;
  note: string;
  onNote: (note: string) => void;
}

export function NoteField({ label, hint, note, onNote }: NoteFieldProps) {
  return (
    <div class="field">
      <label for="note">{label}</label>
      <textarea
        id="note"
        rows={3}
        maxLength={2000}
        placeholder={hint}
        value={note}
        onInput={({ currentTarget }) => onNote(currentTarget.value)}
      />
    </div>
  );
}
