import { useEffect, useState } from 'preact/hooks';
import type { BoardView } from '../../ward/board/board-view.ts';
import { listen } from '../live/stream.ts';

/** The server sends at least once a second; two messages may be lost. */
const SILENCE_MS = 3000;
const LOOK_MS = 500;

export interface Board {
  /** Null before the first message. */
  view: BoardView | null;
  /** No message for a while: what the page shows may be outdated. */
  isLost: boolean;
}

/** @returns the board, updated while the page is open */
export function useBoard(isAllowed: boolean): Board {
  const [board, setBoard] = useState<Board>({ view: null, isLost: false });
  useEffect(() => {
    if (!isAllowed) return;
    let heardAtMs = performance.now();
    const stop = listen<BoardView>('/board', (view) => {
      heardAtMs = performance.now();
      setBoard({ view, isLost: false });
    });
    const look = () => {
      if (performance.now() - heardAtMs < SILENCE_MS) return;
      setBoard((now) => (now.isLost ? now : { ...now, isLost: true }));
    };
    const timer = setInterval(look, LOOK_MS);
    document.addEventListener('visibilitychange', look);
    return () => {
      stop();
      clearInterval(timer);
      document.removeEventListener('visibilitychange', look);
    };
  }, [isAllowed]);
  return board;
}
