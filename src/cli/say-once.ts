/** @returns a function to be called from time to time: it reports a trouble once, and its end */
export function sayOnce(now: () => string | null, err: (text: string) => void): () => void {
  let said: string | null = null;
  return () => {
    const text = now();
    if (text === said) return;
    err(text ?? 'The store takes feeds again.');
    said = text;
  };
}
