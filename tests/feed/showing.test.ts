import { describe, expect, it } from 'vitest';
import { lightFor } from '../../src/feed/live/light-language.ts';
import type { Showing } from '../../src/feed/live/live-view.ts';
import {
  CALM_HOLD_MS,
  DOUBT_MS,
  SHOWING_START,
  type ShowingInput,
  stepShowing,
  TRUST_MS,
} from '../../src/feed/live/showing.ts';
import type { CueKind } from '../../src/pacing/cues/cue.ts';
import { seededRandom } from '../support/random.ts';

/** A feed that runs, with nothing the matter. */
const CALM: ShowingInput = {
  nowMs: 0,
  fresh: true,
  feedOpen: true,
  guidanceOff: false,
  heldSteeply: false,
  cue: null,
  invalid: false,
};
const STEP_MS = 50;

/** Plays stretches of one input each, 20 steps a second. @returns what was shown at each step */
function play(...stretches: [seconds: number, input: Partial<ShowingInput>][]): Showing[] {
  let state = SHOWING_START;
  let nowMs = 0;
  return stretches.flatMap(([seconds, input]) =>
    Array.from({ length: Math.round((seconds * 1000) / STEP_MS) }, () => {
      nowMs += STEP_MS;
      state = stepShowing(state, { ...CALM, ...input, nowMs });
      return state.showing;
    }),
  );
}

/** @returns each thing shown and for how long, seconds: [['gentle', 2], ['burp', 1]] */
function runs(shown: Showing[]): [Showing, number][] {
  const all: [Showing, number][] = [];
  for (const showing of shown) {
    const last = all.at(-1);
    if (last?.[0] === showing) last[1] += STEP_MS / 1000;
    else all.push([showing, STEP_MS / 1000]);
  }
  return all.map(([showing, seconds]) => [showing, Number(seconds.toFixed(2))]);
}

describe('a link that has sent all it had, its feed over', () => {
  it('is waiting, not trouble, and at once', () => {
    expect(runs(play([1, { feedOpen: true }], [2, { fresh: false, feedOpen: false, isOver: true }]))).toEqual(
      [
        ['gentle', 1],
        ['waiting', 2],
      ],
    );
  });

  it('without a feed it is nothing that guides', () => {
    expect(play([1, { fresh: false, feedOpen: false }]).at(-1)).toBe('no-guidance');
  });
});

describe('precedence', () => {
  it('no samples, then a pause of guidance, then no feed, then doubt, then a cue, then calm', () => {
    const everything: ShowingInput = {
      nowMs: 10_000,
      fresh: false,
      feedOpen: false,
      guidanceOff: true,
      heldSteeply: false,
      cue: 'tilt-down',
      invalid: true,
    };
    const inDoubt = { ...SHOWING_START, doubt: { sinceMs: 0, lastMs: 9_900 } };
    const shown = (input: Partial<ShowingInput>) => stepShowing(inDoubt, { ...everything, ...input }).showing;
    expect(shown({})).toBe('no-guidance');
    expect(shown({ fresh: true })).toBe('guidance-off');
    expect(shown({ fresh: true, guidanceOff: false })).toBe('waiting');
    expect(shown({ fresh: true, guidanceOff: false, feedOpen: true })).toBe('cannot-tell');
    expect(stepShowing(SHOWING_START, { ...CALM, cue: 'tilt-down', nowMs: 10_000 }).showing).toBe(
      'tilt-down',
    );
    expect(stepShowing(SHOWING_START, { ...CALM, nowMs: 10_000 }).showing).toBe('gentle');
  });

  it.each(['tilt-down', 'burp', 'switch-side', 'offer-stop'] as const)(
    'shows %s at once and ends it at once',
    (cue) => {
      expect(runs(play([1, {}], [2, { cue }], [1, {}]))).toEqual([
        ['gentle', 1],
        [cue, 2],
        ['gentle', 1],
      ]);
    },
  );
});

describe('no guidance', () => {
  it('comes at once over a cue, and stays until samples have come for 5 s', () => {
    expect(runs(play([1, { cue: 'burp' }], [30, { fresh: false }], [6, {}]))).toEqual([
      ['burp', 1],
      ['no-guidance', 30 + CALM_HOLD_MS / 1000 - STEP_MS / 1000],
      ['gentle', 1 + STEP_MS / 1000],
    ]);
  });

  it('does not flicker when samples come and go', () => {
    const stuttering = Array.from({ length: 20 }, (_, i): [number, Partial<ShowingInput>] => [
      i % 2 ? 1.2 : 0.3,
      { fresh: i % 2 === 1 },
    ]);
    expect(runs(play([2, {}], ...stuttering)).map(([showing]) => showing)).toEqual(['gentle', 'no-guidance']);
  });

  it('ends with the first sample that is ever heard', () => {
    expect(runs(play([0.4, { fresh: false, feedOpen: false }], [2, { feedOpen: false }], [1, {}]))).toEqual([
      ['no-guidance', 0.4],
      ['waiting', 2],
      ['gentle', 1],
    ]);
  });

  it('gives way to a cue at once: milk that runs too fast does not wait', () => {
    expect(runs(play([3, { fresh: false }], [1, { cue: 'tilt-down' }]))).toEqual([
      ['no-guidance', 3],
      ['tilt-down', 1],
    ]);
  });

  it('gives way to "guidance paused" at once: the caregiver asked for it', () => {
    expect(runs(play([3, { fresh: false }], [1, { guidanceOff: true }])).at(-1)).toEqual(['guidance-off', 1]);
  });
});

describe('doubt', () => {
  it('hides the cue at once, and says "cannot tell" if the doubt lasts', () => {
    const shown = runs(play([2, { cue: 'tilt-down' }], [3, { invalid: true }]));
    expect(shown).toEqual([
      ['tilt-down', 2],
      ['gentle', DOUBT_MS / 1000],
      ['cannot-tell', 3 - DOUBT_MS / 1000],
    ]);
  });

  it('never shows a cue while it lasts, whatever pacing says', () => {
    const shown = play([5, { invalid: true, cue: 'burp' }]);
    expect(shown).not.toContain('burp');
  });

  it('of a knock is not put into words, but a cue waits until the estimate has been good for a second', () => {
    expect(runs(play([2, { cue: 'burp' }], [0.3, { invalid: true }], [3, { cue: 'burp' }]))).toEqual([
      ['burp', 2],
      ['gentle', 0.3 + TRUST_MS / 1000 - STEP_MS / 1000],
      ['burp', 3 - TRUST_MS / 1000 + STEP_MS / 1000],
    ]);
  });

  it('that comes and goes many times a second is one doubt, not a flicker', () => {
    // A bottle turned just to the limit, so that every other estimate is invalid.
    const atTheLimit = Array.from({ length: 100 }, (_, i): [number, Partial<ShowingInput>] => [
      STEP_MS / 1000,
      { invalid: i % 2 === 0, cue: 'burp' },
    ]);
    expect(runs(play([2, { cue: 'burp' }], ...atTheLimit)).map(([showing]) => showing)).toEqual([
      'burp',
      'gentle',
      'cannot-tell',
    ]);
  });

  it('once said stays until the estimate has been good for 5 s', () => {
    const [, said, after] = runs(play([1, {}], [2, { invalid: true }], [8, {}], [1, { cue: 'burp' }]));
    expect(said![0]).toBe('cannot-tell');
    expect(said![1]).toBeGreaterThanOrEqual(2 - DOUBT_MS / 1000 + CALM_HOLD_MS / 1000);
    expect(after![0]).toBe('gentle');
  });

  it('is not said while no feed runs', () => {
    expect(runs(play([3, { invalid: true, feedOpen: false }]))).toEqual([['waiting', 3]]);
  });

  it('after a silence is said once the silence has been over for 5 s', () => {
    expect(runs(play([0.1, {}], [2, { fresh: false }], [7, { invalid: true }]))).toEqual([
      ['gentle', 0.1],
      ['no-guidance', 2 + CALM_HOLD_MS / 1000 - STEP_MS / 1000],
      ['cannot-tell', 2 + STEP_MS / 1000],
    ]);
  });
});

describe('over any course of events', () => {
  const CUES: (CueKind | null)[] = [null, null, 'tilt-down', 'burp', 'switch-side', 'offer-stop'];

  /** Each of the inputs stays for a random while; some change with nearly every step. */
  function randomCourse(seed: number): ShowingInput[] {
    const random = seededRandom(seed);
    const now = { ...CALM };
    return Array.from({ length: 2400 }, (_, i) => {
      if (random() < 0.02) now.fresh = !now.fresh;
      if (random() < 0.005) now.feedOpen = !now.feedOpen;
      if (random() < 0.005) now.guidanceOff = !now.guidanceOff;
      if (random() < 0.02) now.cue = CUES[Math.floor(random() * CUES.length)]!;
      if (random() < (i % 600 < 200 ? 0.5 : 0.02)) now.invalid = !now.invalid;
      return { ...now, nowMs: (i + 1) * STEP_MS };
    });
  }

  it.each([1, 2, 3, 4, 5])(
    'shows nothing that is not so, and flashes at most three times a second (seed %i)',
    (seed) => {
      let state = SHOWING_START;
      const lit: boolean[] = [];
      for (const input of randomCourse(seed)) {
        const before = state;
        state = stepShowing(state, input);
        const { showing } = state;
        if (!input.fresh) expect(showing).toBe('no-guidance');
        if (input.fresh && input.guidanceOff) expect(showing).toBe('guidance-off');
        if (['tilt-down', 'burp', 'switch-side', 'offer-stop'].includes(showing)) {
          expect(showing).toBe(input.cue);
          expect(input).toMatchObject({ fresh: true, feedOpen: true, guidanceOff: false, invalid: false });
        }
        const trouble = before.showing === 'no-guidance' || before.showing === 'cannot-tell';
        if (trouble && ['gentle', 'waiting'].includes(showing)) {
          expect(input.nowMs - before.sinceMs).toBeGreaterThanOrEqual(CALM_HOLD_MS);
        }
        const { red, green, blue } = lightFor(showing, false, (input.nowMs - state.sinceMs) / 1000);
        lit.push(red + green + blue > 60);
      }
      // WCAG 2.3.1 (from memory): no more than three flashes in any one second.
      const windowSteps = 1000 / STEP_MS;
      for (let from = 0; from + windowSteps < lit.length; from++) {
        let flashes = 0;
        for (let i = from + 1; i <= from + windowSteps; i++) if (lit[i] && !lit[i - 1]) flashes++;
        expect(flashes).toBeLessThanOrEqual(3);
      }
    },
  );
});
