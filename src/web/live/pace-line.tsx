/**
 * A thin line from the edge toward a fixed mark: how far the feed is ahead of a gentle pace. When it reaches the mark the "too fast" cue
 * comes. It shows no amounts. With a degraded estimate it is drawn broken; without data it is hidden.
 */
import { useChoices } from '../parts/choices.tsx';

export type LineState = 'drawn' | 'broken' | 'none';

export function PaceLine({ ahead, state }: { ahead: number | null; state: LineState }) {
  const { texts } = useChoices();
  const drawn = state === 'drawn' && ahead !== null;
  const share = Math.min(1, Math.max(0, ahead ?? 0));
  return (
    <div class="pace" data-line={drawn ? 'drawn' : state === 'broken' ? 'broken' : 'none'} aria-hidden="true">
      <div class="pace-field">
        {drawn && <div class="pace-line" style={{ '--ahead': String(share) }} />}
        {state === 'broken' && <div class="pace-pieces" />}
        <div class="pace-mark" />
      </div>
      <div class="pace-names">
        <span>{texts.live.paceStart}</span>
        <span class="pace-mark-name">{texts.live.paceMark}</span>
      </div>
    </div>
  );
}
