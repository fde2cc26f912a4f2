import { describe, expect, it } from 'vitest';
import { notesFor, SOUND_GAP_SEC } from '../../src/feed/live/light-language.ts';
import type { Showing } from '../../src/feed/live/live-view.ts';
import { SOUNDING_START, stepSounding } from '../../src/feed/live/sounding.ts';
import { seededRandom } from '../support/random.ts';

const STEP_MS = 50;

/** @returns each cue that was heard, with its time in seconds */
function heard(course: { showing: Showing; muted?: boolean }[]): [number, Showing][] {
  let state = SOUNDING_START;
  let before: Showing = 'waiting';
  return course.flatMap(({ showing, muted = false }, i) => {
    const nowMs = i * STEP_MS;
    state = stepSounding(state, { nowMs, showing, began: showing !== before, muted });
    before = showing;
    return state.notes ? [[nowMs / 1000, showing] as [number, Showing]] : [];
  });
}

const during = (seconds: number, showing: Showing, muted = false) =>
  Array.from({ length: (seconds * 1000) / STEP_MS }, () => ({ showing, muted }));

describe('the buzzer', () => {
  it('speaks once when a cue begins, with the notes of that cue', () => {
    expect(heard([...during(5, 'gentle'), ...during(30, 'tilt-down')])).toEqual([[5, 'tilt-down']]);
    const first = stepSounding(SOUNDING_START, {
      nowMs: 0,
      showing: 'offer-stop',
      began: true,
      muted: false,
    });
    expect(first.notes).toEqual(notesFor('offer-stop'));
  });

  it('lets a cue that came too soon be heard when the gap is over, if it still stands', () => {
    const course = [...during(3, 'switch-side'), ...during(20, 'tilt-down')];
    expect(heard(course)).toEqual([
      [0, 'switch-side'],
      [SOUND_GAP_SEC, 'tilt-down'],
    ]);
  });

  it('drops a cue that was over before its turn', () => {
    const course = [...during(3, 'switch-side'), ...during(4, 'tilt-down'), ...during(20, 'gentle')];
    expect(heard(course)).toEqual([[0, 'switch-side']]);
  });

  it('is silent while muted, and does not make up for it', () => {
    expect(
      heard([...during(3, 'gentle'), ...during(5, 'tilt-down', true), ...during(30, 'tilt-down')]),
    ).toEqual([]);
    expect(
      heard([...during(3, 'switch-side'), ...during(2, 'tilt-down', true), ...during(20, 'tilt-down')]),
    ).toEqual([[0, 'switch-side']]);
  });

  it('is never heard twice within the gap, whatever comes', () => {
    const random = seededRandom(7);
    const kinds: Showing[] = [
      'tilt-down',
      'burp',
      'switch-side',
      'offer-stop',
      'gentle',
      'cannot-tell',
      'no-guidance',
    ];
    const course = Array.from({ length: 300 }, () =>
      during(0.05 * Math.ceil(random() * 120), kinds[Math.floor(random() * kinds.length)]!),
    ).flat();
    const times = heard(course).map(([atSec]) => atSec);
    expect(times.length).toBeGreaterThan(20);
    for (let i = 1; i < times.length; i++) {
      expect(times[i]! - times[i - 1]!).toBeGreaterThanOrEqual(SOUND_GAP_SEC);
    }
  });
});
