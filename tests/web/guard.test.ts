import { describe, expect, it } from 'vitest';
import type { LiveView, Showing } from '../../src/feed/live/live-view.ts';
import { CALM_MS, type Guard, guardStep, openGuard, SILENCE_MS } from '../../src/web/live/guard.ts';
import { viewOf } from '../support/fake-live.ts';

/** Plays views at given times, looking every 100 ms as the page does, and tells when the page changed. */
function play(views: [atMs: number, view: Partial<LiveView>][], untilMs: number) {
  let guard: Guard = openGuard(0);
  const changes: [number, Showing, boolean][] = [];
  const see = (next: Guard, atMs: number) => {
    if (next.shown && next.shown.showing !== guard.shown?.showing) {
      changes.push([atMs, next.shown.showing, next.shown.silent]);
    }
    guard = next;
  };
  const queue = [...views];
  for (let atMs = 0; atMs <= untilMs; atMs += 100) {
    while (queue.length > 0 && queue[0]![0] <= atMs) {
      const [at, view] = queue.shift()!;
      see(guardStep(guard, viewOf(view), at), at);
    }
    see(guardStep(guard, null, atMs), atMs);
  }
  return { changes, guard };
}

it('is silent after one second and calm for five, as the sleeve and its page promise', () => {
  expect([SILENCE_MS, CALM_MS]).toEqual([1000, 5000]);
});

/** The same view twice a second. */
const steady = (fromMs: number, untilMs: number, view: Partial<LiveView>): [number, Partial<LiveView>][] => {
  const views: [number, Partial<LiveView>][] = [];
  for (let atMs = fromMs; atMs < untilMs; atMs += 500) views.push([atMs, view]);
  return views;
};

describe('silence', () => {
  it('says no guidance one second after the last view, and forgets that the view was fresh', () => {
    const { changes, guard } = play(steady(0, 2000, { showing: 'tilt-down' }), 4000);
    expect(changes).toEqual([
      [0, 'tilt-down', false],
      [1500 + SILENCE_MS, 'no-guidance', true],
    ]);
    expect(guard.fresh).toBe(false);
  });

  it('says nothing in the first second of the page, then no guidance', () => {
    expect(play([], 900).guard.shown).toBeNull();
    expect(play([], 1500).changes).toEqual([[SILENCE_MS, 'no-guidance', true]]);
  });

  it('two views a second are enough', () => {
    expect(play(steady(0, 60_000, { showing: 'gentle' }), 60_000).changes).toEqual([[0, 'gentle', false]]);
  });
});

describe('calm', () => {
  it.each(['cannot-tell', 'no-guidance'] as const)('%s stays for five seconds', (showing) => {
    const views = [...steady(0, 500, { showing }), ...steady(500, 9000, { showing: 'gentle' })];
    expect(play(views, 9000).changes).toEqual([
      [0, showing, false],
      [CALM_MS, 'gentle', false],
    ]);
  });

  it('a stream that comes and goes does not flicker', () => {
    const views: [number, Partial<LiveView>][] = [];
    for (let start = 0; start < 20_000; start += 1500) views.push([start, { showing: 'gentle' }]);
    const { changes } = play(views, 20_000);
    const gaps = changes.slice(1).map(([atMs], index) => atMs - changes[index]![0]);
    const calm = changes
      .slice(0, -1)
      .map(([, showing], index) => (showing === 'no-guidance' ? gaps[index]! : CALM_MS));
    expect(Math.min(...calm)).toBeGreaterThanOrEqual(CALM_MS);
  });

  it('the words of a calm state may be corrected while it stays', () => {
    const views: [number, Partial<LiveView>][] = [
      [0, { showing: 'cannot-tell', qualityReason: 'motion' }],
      [500, { showing: 'cannot-tell', qualityReason: 'roll' }],
    ];
    const { changes, guard } = play(views, 900);
    expect(changes).toHaveLength(1);
    expect(guard.shown?.qualityReason).toBe('roll');
    expect(guard.shownSinceMs).toBe(0);
  });

  it("gives way at once to the caregiver's own doing", () => {
    const paused = [
      ...steady(0, 500, { showing: 'cannot-tell' }),
      ...steady(500, 900, { showing: 'guidance-off' }),
    ];
    expect(play(paused, 900).changes.at(-1)).toEqual([500, 'guidance-off', false]);
    const ended: [number, Partial<LiveView>][] = [
      [0, { showing: 'cannot-tell' }],
      [500, { showing: 'waiting', feedState: 'ended' }],
    ];
    expect(play(ended, 900).changes.at(-1)).toEqual([500, 'waiting', false]);
  });

  it('a cue is shown the moment it comes when nothing calm is up', () => {
    const views = [
      ...steady(0, 1000, { showing: 'gentle' }),
      ...steady(1000, 2000, { showing: 'tilt-down' }),
    ];
    expect(play(views, 2000).changes.at(-1)).toEqual([1000, 'tilt-down', false]);
  });
});

it('returns the same object when nothing changed, so that nothing is drawn again', () => {
  const guard = guardStep(openGuard(0), viewOf(), 0);
  expect(guardStep(guard, null, 200)).toBe(guard);
});
