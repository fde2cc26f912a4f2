/** Lines in the terminal: cues as they come, and one line of numbers. */
import {
  distinctUntilChanged,
  map,
  mergeMap,
  type Observable,
  pairwise,
  Subscription,
  throttleTime,
} from 'rxjs';
import type { LiveView, NoticeKind } from '../feed/live/live-view.ts';
import { becauseText, WORDS } from '../pacing/index.ts';

/** States without a line: nothing to do, or no feed. */
const UNSAID: readonly LiveView['showing'][] = ['gentle', 'guidance-off', 'cues-withheld', 'waiting'];

const BATTERY: Partial<Record<NoticeKind, string>> = {
  'battery-soon': 'Battery for about half an hour: charge the sleeve after this feed.',
  'battery-low': 'Battery low: charge the sleeve after this feed.',
};

const number = (value: number | null, digits: number): string =>
  value === null ? '–' : value.toFixed(digits);

const clock = (sec: number | null): string =>
  sec === null ? '--:--' : `${Math.floor(sec / 60)}:${String(Math.floor(sec % 60)).padStart(2, '0')}`;

function numbersLine({ feedElapsedSec, teatInMouth, numbers, showing, batteryPercent }: LiveView): string {
  return [
    clock(feedElapsedSec),
    showing,
    teatInMouth ? 'nipple in' : 'nipple out',
    `milk ${number(numbers.milkMl, 1)} mL`,
    `flow ${number(numbers.flowMlPerMin, 1)} mL/min`,
    `taken ${number(numbers.intakeMl, 1)} mL`,
    `tilt ${number(numbers.tiltDeg, 0)}°`,
    ...(typeof batteryPercent === 'number' ? [`battery ${batteryPercent} %`] : []),
    `samples ${numbers.accepted} ok, ${numbers.rejected} broken, ${numbers.missing} missing`,
  ].join('  ');
}

const isKept = ({ feedId, unkept }: LiveView): boolean => feedId === null || !unkept?.includes(feedId);

function overText(view: LiveView): string {
  if (!isKept(view)) {
    return 'The feed is over but NOT kept yet: the rest of it is only in the memory of this program. Leave it running: it tries again every second.';
  }
  const graph = `ebbline feeds graph ${view.feedId}${view.simulated ? ' --simulated' : ''}`;
  return `The feed is over and kept. See it on the page, or run: ${graph}`;
}

/** Writes until unsubscribed. The line of numbers overwrites itself, and is written only to a terminal. */
export function terminalLines(view$: Observable<LiveView>, { quiet }: { quiet: boolean }): Subscription {
  const { stdout } = process;
  const live = stdout.isTTY && !quiet;
  const clear = live ? '\r\u001b[K' : '';
  const all = new Subscription();
  all.add(
    view$
      .pipe(distinctUntilChanged((a, b) => a.showing === b.showing && a.feedState === b.feedState))
      .subscribe(({ showing, feedState, feedElapsedSec, because }) => {
        if (feedState !== 'open' || UNSAID.includes(showing)) return;
        const why = because ? ` (${becauseText(because, 'en')})` : '';
        stdout.write(`${clear}${clock(feedElapsedSec)}  ${WORDS.en.shown[showing].say}${why}\n`);
      }),
  );
  all.add(
    view$
      .pipe(
        distinctUntilChanged(
          (a, b) => a.feedId === b.feedId && a.feedState === b.feedState && isKept(a) === isKept(b),
        ),
      )
      .subscribe((view) => {
        if (view.feedState === 'ended') stdout.write(`${clear}${overText(view)}\n`);
      }),
  );
  all.add(
    view$
      .pipe(
        pairwise(),
        mergeMap(([before, { feedId, unkept }]) =>
          (before.unkept ?? []).filter((id) => id !== feedId && !unkept?.includes(id)),
        ),
      )
      .subscribe((id) => stdout.write(`${clear}The feed ${id}, which waited in memory, is kept now.\n`)),
  );
  all.add(
    view$
      .pipe(distinctUntilChanged((a, b) => a.notice === b.notice))
      .subscribe(({ notice }) => notice !== null && stdout.write(`${clear}${notice}\n`)),
  );
  all.add(
    view$
      .pipe(
        map(({ notices = [] }) => notices.map((kind) => BATTERY[kind]).find((text) => text !== undefined)),
        distinctUntilChanged(),
      )
      .subscribe((text) => text && stdout.write(`${clear}${text}\n`)),
  );
  if (live) {
    all.add(view$.pipe(throttleTime(500)).subscribe((view) => stdout.write(`${clear}${numbersLine(view)}`)));
  }
  return all;
}
