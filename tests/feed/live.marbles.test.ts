/** The live feed against time, as marbles: one row for what goes in, one for what is shown. A letter stands for a change. */
import {
  distinctUntilChanged,
  filter,
  interval,
  map,
  merge,
  NEVER,
  type Observable,
  Subject,
  scan,
  skipUntil,
  takeUntil,
  timer,
} from 'rxjs';
import { TestScheduler } from 'rxjs/testing';
import { describe, expect, it } from 'vitest';
import type { LinkState, SleeveLink } from '../../firmware-bridge/links/link.ts';
import { createLiveFeed } from '../../src/feed/live/live.ts';
import type { LiveView, Showing } from '../../src/feed/live/live-view.ts';
import { SOUNDING_START, stepSounding } from '../../src/feed/live/sounding.ts';
import { MemoryStorage } from '../support/memory-storage.ts';
import { createScriptedSleeve } from '../support/scripted-sleeve.ts';

const LINK: Record<string, LinkState> = {
  o: { kind: 'open' },
  l: { kind: 'lost', reason: 'The cable is out.' },
};
const SHOWN: Record<string, Showing> = {
  w: 'waiting',
  n: 'no-guidance',
  g: 'gentle',
  p: 'guidance-off',
  c: 'cannot-tell',
};

interface Rows {
  /** o open, l lost */
  link: string;
  /** y samples come, n none do */
  samples: string;
  /** i teat in, o teat out */
  teat?: string;
  /** p guidance paused, g on again */
  pause?: string;
  /** f the bottle's light goes out: accelerometer fault; k it is well again */
  fault?: string;
  endsAtMs: number;
}

/** Plays the rows, and checks what `read` takes from the view against `expected`. */
function check<T>(
  rows: Rows,
  read: (view$: Observable<LiveView>) => Observable<T>,
  expected: string,
  values: Record<string, T>,
) {
  const scheduler = new TestScheduler((actual, wanted) => expect(actual).toEqual(wanted));
  scheduler.run(({ hot, expectObservable }) => {
    const sleeve = createScriptedSleeve();
    const row = (marbles: string | undefined, act: (letter: string) => void) =>
      marbles && hot(marbles).subscribe(act);
    row(rows.samples, (letter) => {
      sleeve.sending = letter === 'y';
    });
    row(rows.teat, (letter) => {
      sleeve.mouth = letter === 'i' ? 'sucking' : 'out';
    });
    row(rows.fault, (letter) => {
      sleeve.faults = letter === 'f' ? 0x08 : 0;
    });
    const over$ = timer(rows.endsAtMs, scheduler);
    // Chunks come between the ticks, so that the order within one moment does not matter.
    const bytes$ = timer(12, 25, scheduler).pipe(
      map(() => sleeve.advance(scheduler.now() / 1000)),
      filter((bytes) => bytes.length > 0),
      takeUntil(over$),
    );
    const link: SleeveLink = {
      label: 'test sleeve',
      bytes$,
      state$: merge(hot(rows.link, LINK), NEVER),
      open: async () => {},
      write: () => {},
      close: async () => {},
    };
    const live = createLiveFeed(
      {
        link,
        calibration: sleeve.calibration,
        storage: new MemoryStorage(() => scheduler.now()),
        outputs: { setLight: () => {}, sound: () => {}, heartbeat: () => {} },
        newFeedId: () => 'feed-1',
        wallNowMs: () => scheduler.now(),
        simulated: true,
        sleeveId: 'bench-1',
      },
      scheduler,
    );
    row(rows.pause, (letter) => live.command({ kind: 'guidance-off', on: letter === 'p' }));
    over$.subscribe(() => live.stop());
    expectObservable(read(live.view$).pipe(takeUntil(timer(rows.endsAtMs - 1, scheduler)))).toBe(
      expected,
      values,
    );
  });
}

const showing = (view$: Observable<LiveView>) =>
  view$.pipe(
    map((view) => view.showing),
    distinctUntilChanged(),
  );

describe('staleness', () => {
  it('no sample for 0.5 s is no guidance; samples for 5 s are guidance again', () => {
    check(
      {
        link: '    o',
        samples: ' y 7999ms n 2999ms y',
        //         |  last sample at 7987, first again at 11 012
        //                     |  sixth tick without: 8500
        endsAtMs: 20_000,
      },
      showing,
      '        (wn) 8ms w 8487ms n 7499ms w 3998ms |',
      SHOWN,
    );
  });

  it('a sleeve that stutters, half a second on and one off, is one silence', () => {
    check(
      {
        link: '    o',
        samples: ' y 7999ms n 999ms y 499ms n 999ms y 499ms n 999ms y 499ms n 999ms y',
        //                      12 500: the last silence is over
        endsAtMs: 20_000,
      },
      showing,
      '        (wn) 8ms w 8487ms n 9999ms w 1498ms |',
      SHOWN,
    );
  });

  it('is said within a second during a feed too, and the numbers go with it', () => {
    check(
      {
        link: '    o',
        samples: ' y 19999ms n',
        teat: '    o 7999ms i',
        endsAtMs: 25_000,
      },
      (view$) =>
        view$.pipe(
          skipUntil(timer(15_000)),
          filter((view) => view.showing === 'no-guidance'),
          map(({ feedState, numbers, aheadOfPace, teatInMouth }) =>
            JSON.stringify([feedState, Object.values(numbers).slice(0, 4), aheadOfPace, teatInMouth]),
          ),
          distinctUntilChanged(),
        ),
      '20500ms n 4498ms |',
      { n: '["open",[null,null,null,null],null,false]' },
    );
  });
});

describe('a link that is lost and comes back', () => {
  it('is no guidance at once, and guidance once it has been back for 5 s', () => {
    check(
      {
        link: '    o 7999ms l 29999ms o',
        samples: ' y 7999ms n 29999ms y',
        endsAtMs: 45_000,
      },
      showing,
      '        (wn) 8ms w 7987ms n 34999ms w 1998ms |',
      SHOWN,
    );
  });

  it('that is open but gives nothing is as silent as a lost one', () => {
    check({ link: 'o', samples: 'n', endsAtMs: 10_000 }, showing, '(wn) 9995ms |', SHOWN);
  });
});

describe('a pause of guidance', () => {
  it('is shown at once and ended at once, but not over a silence', () => {
    check(
      {
        link: '    o',
        samples: ' y 7999ms                 n 1999ms y',
        pause: '   5999ms p 3499ms g',
        endsAtMs: 12_000,
      },
      showing,
      '        (wn) 8ms w 5986ms p 2500ms n 3498ms |',
      SHOWN,
    );
  });
});

describe('the limits of sound', () => {
  /** s change arms, t too fast, g nothing to do */
  const CUES: Record<string, Showing> = { s: 'switch-side', t: 'tilt-down', g: 'gentle' };

  function checkSound(course: string, expected: string): void {
    const scheduler = new TestScheduler((actual, wanted) => expect(actual).toEqual(wanted));
    scheduler.run(({ hot, expectObservable }) => {
      const heard$ = new Subject<Showing>();
      let now: Showing = 'gentle';
      const end$ = timer(60_000, scheduler);
      const steps = merge(
        hot(course, CUES).pipe(map((next) => ({ showing: next, began: next !== now }))),
        interval(100, scheduler).pipe(map(() => ({ showing: now, began: false }))),
      ).pipe(takeUntil(end$));
      expectObservable(heard$).toBe(expected, CUES);
      steps
        .pipe(
          scan((state, { showing: next, began }) => {
            now = next;
            return stepSounding(state, { nowMs: scheduler.now(), showing: next, began, muted: false });
          }, SOUNDING_START),
        )
        .subscribe(({ notes }) => notes && heard$.next(now));
    });
  }

  it('are 10 s from sound to sound; what had to wait is heard if it still stands', () => {
    checkSound(
      's 3999ms t 19999ms g 9999ms s 2999ms t 2999ms g',
      's 9999ms t 23999ms s',
      //        |<--- 10 s --->| 34 s    : and the last one was over before its turn
    );
  });
});
