import type { Refused } from './ask.ts';
import { useChoices } from './choices.tsx';
import { refusalText } from './refusals.ts';

/** Why something could not be loaded or done, and what to do, in the page's language. */
export function RefusedNotice({ error, lead }: { error: Refused; lead?: string }) {
  const { language, texts } = useChoices();
  const [what, remedy] = refusalText(error, language, texts);
  return (
    <p class="refused" role="alert">
      {lead} <strong>{what}</strong> {remedy}
    </p>
  );
}
