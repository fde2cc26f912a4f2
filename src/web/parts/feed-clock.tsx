/** Whole minutes since the first suck. Without a goal; hidden while no data comes from the sleeve. */
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
