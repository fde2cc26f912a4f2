/** A feed told in lines: cues as they come, and for a builder one line of numbers. */
import { distinctUntilChanged, filter, map, merge, mergeMap, type Observable, pairwise } from 'rxjs';
import type { LiveView, NoticeKind } from '../../feed/live/live-view.ts';
import { becauseText, WORDS } from '../../pacing/index.ts';

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

export function numbersLine({
  feedElapsedSec,
  teatInMouth,
  numbers,
  showing,
  batteryPercent,
}: LiveView): string {
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

/** Each thing is said once, as it comes. */
export function saidLines(view$: Observable<LiveView>): Observable<string> {
  const cues$ = view$.pipe(
    distinctUntilChanged((a, b) => a.showing === b.showing && a.feedState === b.feedState),
    filter(({ showing, feedState }) => feedState === 'open' && !UNSAID.includes(showing)),
    map(({ showing, feedElapsedSec, because }) => {
      const why = because ? ` (${becauseText(because, 'en')})` : '';
      return `${clock(feedElapsedSec)}  ${WORDS.en.shown[showing].say}${why}`;
    }),
  );
  const over$ = view$.pipe(
    distinctUntilChanged(
      (a, b) => a.feedId === b.feedId && a.feedState === b.feedState && isKept(a) === isKept(b),
    ),
    filter(({ feedState }) => feedState === 'ended'),
    map(overText),
  );
  const keptLate$ = view$.pipe(
    pairwise(),
    mergeMap(([before, { feedId, unkept }]) =>
      (before.unkept ?? []).filter((id) => id !== feedId && !unkept?.includes(id)),
    ),
    map((id) => `The feed ${id}, which waited in memory, is kept now.`),
  );
  const notices$ = view$.pipe(
    map(({ notice }) => notice),
    distinctUntilChanged(),
  );
  const battery$ = view$.pipe(
    map(({ notices = [] }) => notices.map((kind) => BATTERY[kind]).find((text) => text !== undefined)),
    distinctUntilChanged(),
  );
  return merge(cues$, over$, keptLate$, notices$, battery$).pipe(filter((text) => typeof text === 'string'));
}
