/**
 * One thin line, drawn sideways from the edge towards a fixed mark: how far ahead of a gentle pace the feed is.
 * At the mark the sleeve asks to ease off. It says nothing of amounts. Untrusted, the line falls apart; unheard, it is gone.
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
