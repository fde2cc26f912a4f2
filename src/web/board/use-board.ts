import { useEffect, useState } from 'preact/hooks';
import type { BoardView } from '../../ward/board/board-view.ts';
import { listen } from '../live/stream.ts';

/** The board speaks at least once a second; two may be lost on the way. */
const SILENCE_MS = 3000;
const LOOK_MS = 500;

export interface Board {
  /** Null until something was heard. */
  view: BoardView | null;
  /** Nobody has spoken for a while: nothing on the page may be gone by. */
  isLost: boolean;
}

/** @returns the board, kept up to date while the page is open */
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
