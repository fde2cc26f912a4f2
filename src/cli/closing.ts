import { type Lines, say } from './print-out.ts';
import { stopSignals } from './stop-signals.ts';

/** What was opened one after another, each with how it is closed. */
export type Closing = (() => unknown)[];

/** What is opened one after another is closed in reverse, whatever happens. */
export async function closingAll<T>(act: (closing: Closing) => Promise<T>): Promise<T> {
  const closing: Closing = [];
  try {
    return await act(closing);
  } finally {
    for (const close of closing.reverse()) await close();
  }
}

/** Opens and greets, and goes on until it is asked to stop; then the program ends. */
export async function untilStopped(
  open: (closing: Closing, greet: (lines: Lines) => void) => Promise<void>,
): Promise<never> {
  await closingAll(async (closing) => {
    let first: Promise<void> | undefined;
    await open(closing, (lines) => {
      // Listened for before the greeting: whoever has read it may ask at once. One Ctrl-C may come twice: it is let go of last.
      const stop = stopSignals();
      closing.unshift(() => stop.letGo());
      first = stop.first;
      say(lines);
    });
    await first;
  });
  process.exit(0);
}
