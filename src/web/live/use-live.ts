import { useEffect, useState } from 'preact/hooks';
import type { LiveView } from '../../feed/live/live-view.ts';
import { type Guard, guardStep, openGuard } from './guard.ts';
import { listen } from './stream.ts';

/** How often the page checks for silence; so it reports silence at most 1.1 s after the last view. */
const LOOK_MS = 100;

/** @returns what the page may show now, updated while the page is open */
export function useLive(): Guard {
  const [guard, setGuard] = useState<Guard>(() => openGuard(performance.now()));
  useEffect(() => {
    const look = () => setGuard((now) => guardStep(now, null, performance.now()));
    const stop = listen<LiveView>('/live', (view) =>
      setGuard((now) => guardStep(now, view, performance.now())),
    );
    const timer = setInterval(look, LOOK_MS);
    // Timers of a page in the background run rarely, so it checks as soon as it is visible again.
    document.addEventListener('visibilitychange', look);
    return () => {
      stop();
      clearInterval(timer);
      document.removeEventListener('visibilitychange', look);
    };
  }, []);
  return guard;
}
