/** A row of choices of which one is chosen: radio buttons that look like tabs. */
export interface OneOfProps<T extends string> {
  name: string;
  label: string;
  choices: readonly { value: T; text: string }[];
  value: T | null;
  onChoose: (value: T) => void;
}

export function OneOf<T extends string>({ name, label, choices, value, onChoose }: OneOfProps<T>) {
  return (
    <fieldset class="one-of">
      <legend>{label}</legend>
      <div class="one-of-row">
        {choices.map((choice) => (
          <label key={choice.value}>
            <input
              type="radio"
              name={name}
              checked={choice.value === value}
              onChange={() => onChoose(choice.value)}
            />
            <span>{choice.text}</span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}

/** The choices of a row in order, with their texts. */
export const choicesOf = <const T extends string>(
  values: readonly T[],
  texts: Readonly<Record<NoInfer<T>, string>>,
): { value: T; text: string }[] => values.map((value) => ({ value, text: texts[value] }));
