/** Handles the signals to stop, until released. */
import { setTimeout } from 'node:timers/promises';

const STOP_SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;

/** Handles every signal to stop until `letGo`, so that none ends the program by itself. */
export function stopSignals() {
  let isAsked = false;
  let wake = () => {};
  const onAsked = () => {
    isAsked = true;
    wake();
  };
  for (const signal of STOP_SIGNALS) process.on(signal, onAsked);
  return {
    first: new Promise<void>((resolve) => {
      wake = resolve;
    }),
    /** @returns whether another signal came meanwhile */
    async nextSecond(): Promise<boolean> {
      isAsked = false;
      await setTimeout(1000);
      return isAsked;
    },
    letGo() {
      for (const signal of STOP_SIGNALS) process.off(signal, onAsked);
    },
  };
}
