/** @returns what is to be asked now and then: it says a trouble once, and that it is over */
export function sayOnce(now: () => string | null, err: (text: string) => void): () => void {
  let said: string | null = null;
  return () => {
    const text = now();
    if (text === said) return;
    err(text ?? 'The store takes feeds again.');
    said = text;
  };
}
