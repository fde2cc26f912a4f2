import { describe, expect, it } from 'vitest';
import {
  SEEN_AFTER_MS,
  stepTelling,
  TELLING_START,
  type TellingInput,
} from '../../src/feed/live/telling-of-cues.ts';
import type { ToldCue } from '../../src/feed/record/feed.ts';

const STEP_MS = 100;
/** The sleeve's clock is ahead of the host's by this much, seconds. */
const AHEAD_SEC = 20;

type Moment = Partial<Pick<TellingInput, 'showing' | 'isPageOpen' | 'sounded'>>;

function toldIn(course: Moment[]): ToldCue[] {
  let state = TELLING_START;
  return course.flatMap(({ showing = 'gentle', isPageOpen = true, sounded = false }, i) => {
    const nowMs = i * STEP_MS;
    state = stepTelling(state, { nowMs, atSec: AHEAD_SEC + nowMs / 1000, showing, isPageOpen, sounded });
    return state.told;
  });
}

const during = (seconds: number, moment: Moment = {}): Moment[] =>
  Array.from({ length: (seconds * 1000) / STEP_MS }, () => moment);

describe('what a caregiver was told', () => {
  it('is kept once for each output, from when the cue began', () => {
    const told = toldIn([
      ...during(2),
      { showing: 'tilt-down', sounded: true },
      ...during(30, { showing: 'tilt-down' }),
    ]);
    const cue = { shown: 'tilt-down', sinceSec: 22 };
    expect(told).toEqual([
      { ...cue, atSec: 22, output: 'sound' },
      { ...cue, atSec: 22, output: 'page' },
      { ...cue, atSec: 22, output: 'light' },
    ]);
  });

  it('is nothing where a cue was gone before anybody could look, or never had its turn', () => {
    const moment = during(SEEN_AFTER_MS / 1000 - 0.1, { showing: 'burp' });
    expect(toldIn([...moment, ...during(5), ...moment, ...during(5)])).toEqual([]);
    for (const showing of ['gentle', 'cannot-tell', 'no-guidance', 'guidance-off', 'waiting'] as const)
      expect(toldIn(during(10, { showing, sounded: true }))).toEqual([]);
  });

  it('is told by the light alone while no page is open, and by the page from when one was opened', () => {
    const closed = { showing: 'burp', isPageOpen: false } as const;
    expect(toldIn(during(9, closed)).map(({ output }) => output)).toEqual(['light']);
    expect(toldIn([...during(5, closed), ...during(5, { showing: 'burp' })])).toEqual([
      { shown: 'burp', sinceSec: 20, atSec: 20, output: 'light' },
      { shown: 'burp', sinceSec: 20, atSec: 25, output: 'page' },
    ]);
  });

  it('a hint has no light of its own: with no page open nobody was told', () => {
    expect(toldIn(during(9, { showing: 'hole-dry', isPageOpen: false }))).toEqual([]);
    expect(toldIn(during(9, { showing: 'hole-dry' })).map(({ output }) => output)).toEqual(['page']);
  });

  it('two cues in a row, and the same one again, are told of anew', () => {
    const told = toldIn([
      ...during(4, { showing: 'tilt-down' }),
      ...during(4, { showing: 'keep-low' }),
      ...during(4),
      ...during(4, { showing: 'keep-low' }),
    ]);
    expect(
      told.filter(({ output }) => output === 'page').map(({ shown, sinceSec }) => [shown, sinceSec]),
    ).toEqual([
      ['tilt-down', 20],
      ['keep-low', 24],
      ['keep-low', 32],
    ]);
  });
});
