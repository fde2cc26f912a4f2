/** Choices of this browser (unit, language), stored in its local storage. */
import { useState } from 'preact/hooks';

/** Local storage may be full or forbidden; the choice then lasts until the page is closed. */
function read(key: string): string | null {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}

function write(key: string, value: string): void {
  try {
    localStorage.setItem(key, value);
  } catch {}
}

/** @returns the stored value, or `otherwise` if there is none or it is not one of `choices`; and a function to change it */
export function useBrowserChoice<T extends string>(
  key: string,
  choices: readonly T[],
  otherwise: T,
): [T, (value: T) => void] {
  const [value, setValue] = useState<T>(() => choices.find((choice) => choice === read(key)) ?? otherwise);
  return [
    value,
    (next) => {
      write(key, next);
      setValue(next);
    },
  ];
}
