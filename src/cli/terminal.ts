/** Lines in the terminal: cues as they come, and for a builder one line of numbers. */
import { distinctUntilChanged, type Observable, Subscription, throttleTime } from 'rxjs';
import type { LiveView } from '../feed/live-view.ts';

const SAID: Partial<Record<LiveView['showing'], string>> = {
  'tilt-down': 'Lower your hand: bottom of the bottle down, nipple stays in.',
  'keep-low': 'Keep the bottle low until baby sucks again.',
  burp: 'Burp pause.',
  'switch-side': 'Change arms.',
  'offer-stop': 'Look at the baby: had enough?',
  'no-guidance': 'No guidance.',
  'cannot-tell': 'Cannot tell just now.',
};

const number = (value: number | null, digits: number): string =>
  value === null ? '–' : value.toFixed(digits);

const clock = (sec: number | null): string =>
  sec === null ? '--:--' : `${Math.floor(sec / 60)}:${String(Math.floor(sec % 60)).padStart(2, '0')}`;

function numbersLine({ feedElapsedSec, teatInMouth, numbers, showing }: LiveView): string {
  return [
    clock(feedElapsedSec),
    showing,
    teatInMouth ? 'nipple in' : 'nipple out',
    `milk ${number(numbers.milkMl, 1)} mL`,
    `flow ${number(numbers.flowMlPerMin, 1)} mL/min`,
    `taken ${number(numbers.intakeMl, 1)} mL`,
    `tilt ${number(numbers.tiltDeg, 0)}°`,
    `samples ${numbers.accepted} ok, ${numbers.rejected} broken, ${numbers.missing} missing`,
  ].join('  ');
}

/** Writes until unsubscribed. The line of numbers is drawn over itself, and only on a terminal. */
export function terminalLines(view$: Observable<LiveView>, { quiet }: { quiet: boolean }): Subscription {
  const { stdout } = process;
  const live = stdout.isTTY && !quiet;
  const clear = live ? '\r\u001b[K' : '';
  const all = new Subscription();
  all.add(
    view$
      .pipe(distinctUntilChanged((a, b) => a.showing === b.showing && a.feedState === b.feedState))
      .subscribe((view) => {
        const said = SAID[view.showing];
        if (said && view.feedState === 'open') {
          stdout.write(
            `${clear}${clock(view.feedElapsedSec)}  ${said}${view.because ? ` (${view.because})` : ''}\n`,
          );
        }
        if (view.feedState === 'ended') {
          stdout.write(
            `${clear}The feed is over and kept. See it on the page, or run: ebbline graph ${view.feedId}${view.simulated ? ' --simulated' : ''}\n`,
          );
        }
      }),
  );
  if (live) {
    all.add(view$.pipe(throttleTime(500)).subscribe((view) => stdout.write(`${clear}${numbersLine(view)}`)));
  }
  return all;
}
