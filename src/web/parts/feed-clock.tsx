/** A quiet clock: whole minutes since the first suck. It aims at nothing; while the sleeve is not heard it is gone. */
import type { Guard } from '../live/guard.ts';
import { useChoices } from './choices.tsx';

export function FeedClock({ guard: { view, fresh } }: { guard: Guard }) {
  const { texts } = useChoices();
  if (!fresh || view?.feedState !== 'open' || view.feedElapsedSec === null) return null;
  return (
    <p class="feed-clock" role="timer" aria-label={texts.live.sinceStart}>
      {texts.live.clock(Math.floor(view.feedElapsedSec / 60))}
    </p>
  );
}
