import { type Observable, type Subscription, throttleTime } from 'rxjs';
import { numbersLine, saidLines } from '../app/sleeve/said-lines.ts';
import type { LiveView } from '../feed/live/live-view.ts';

/** Writes until unsubscribed. The line of numbers overwrites itself, and is written only to a terminal. */
export function terminalLines(view$: Observable<LiveView>, { quiet }: { quiet: boolean }): Subscription {
  const { stdout } = process;
  const live = stdout.isTTY && !quiet;
  const clear = live ? '\r\u001b[K' : '';
  const all = saidLines(view$).subscribe((text) => stdout.write(`${clear}${text}\n`));
  if (live)
    all.add(view$.pipe(throttleTime(500)).subscribe((view) => stdout.write(`${clear}${numbersLine(view)}`)));
  return all;
}
