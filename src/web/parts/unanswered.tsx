import type { Answer } from './ask.ts';
import { useChoices } from './choices.tsx';
import { RefusedNotice } from './refused-notice.tsx';

/** While the server is asked, that it is; where it refused, why. @param asking  what is said while it is asked */
export function Unanswered({ of, asking }: { of: Answer<unknown>; asking?: string }) {
  const { texts } = useChoices();
  if (of.state === 'asking') return <p class="soft">{asking ?? texts.feeds.asking}</p>;
  return of.state === 'refused' ? <RefusedNotice error={of.error} /> : null;
}
