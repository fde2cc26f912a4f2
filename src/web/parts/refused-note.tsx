import type { Refused } from './ask.ts';
import { useChoices } from './choices.tsx';

/** Why something could not be had, and what to do. */
export function RefusedNote({ error }: { error: Refused }) {
  const { refused } = useChoices().texts;
  const unreached = error.code === 'unreached';
  return (
    <p class="refused" role="alert">
      <strong>{unreached ? refused.unreached : error.message}</strong>{' '}
      {unreached ? refused.unreachedRemedy : error.remedy}
    </p>
  );
}
