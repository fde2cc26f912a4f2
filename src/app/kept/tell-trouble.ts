/** A store that takes no feeds for a while. */

const LOOK_MS = 1000;

/** Looks each second whether there is a trouble, and tells it once, and its end. @returns what ends that */
export function tellTrouble(now: () => string | null, tell: (text: string) => void): () => void {
  let told: string | null = null;
  const looking = setInterval(() => {
    const text = now();
    if (text !== told) tell(text ?? 'The store takes feeds again.');
    told = text;
  }, LOOK_MS);
  return () => clearInterval(looking);
}
