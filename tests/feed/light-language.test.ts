import { describe, expect, it } from 'vitest';
import {
  cueInLight,
  type Light,
  lightFor,
  notesFor,
  SOUND_GAP_SEC,
} from '../../src/feed/live/light-language.ts';
import type { Showing } from '../../src/feed/live/live-view.ts';
import type { CueKind } from '../../src/pacing/cues/cue.ts';

const CUES: CueKind[] = ['tilt-down', 'burp', 'switch-side', 'offer-stop'];
const STATES: Showing[] = [
  'gentle',
  'held-steeply',
  'cannot-tell',
  'no-guidance',
  'guidance-off',
  'cues-withheld',
  'waiting',
];
const ALL: Showing[] = [...CUES, ...STATES];

const STEP_SEC = 0.05;
/** What one would see in `seconds`, 20 looks a second. */
const seen = (showing: Showing, seconds = 30, dimmed = false): Light[] =>
  Array.from({ length: seconds / STEP_SEC }, (_, i) => lightFor(showing, dimmed, (i + 0.5) * STEP_SEC));
/** Without color: relative luminance with the weights of sRGB (ITU-R BT.709; WCAG 2, definitions), duty of the PWM being linear light. */
const gray = ({ red, green, blue }: Light): number => 0.2126 * red + 0.7152 * green + 0.0722 * blue;

interface Rhythm {
  longestOnSec: number;
  longestOffSec: number;
  glowsPerMin: number;
}

/** A glow is a stretch over half of the pattern's own brightest: what an eye that knows no tint sees. */
function rhythmOf(showing: Showing, dimmed = false): Rhythm {
  const levels = seen(showing, 60, dimmed).map(gray);
  const half = Math.max(...levels) / 2;
  const stretches = { on: [0], off: [0] };
  let glows = 0;
  levels.forEach((level, i) => {
    const on = level > half;
    const wasOn = i > 0 && levels[i - 1]! > half;
    if (on && !wasOn) {
      glows++;
      stretches.on.push(0);
    }
    if (!on && (wasOn || i === 0)) stretches.off.push(0);
    const stretch = on ? stretches.on : stretches.off;
    stretch[stretch.length - 1]! += STEP_SEC;
  });
  return {
    longestOnSec: Math.max(...stretches.on),
    longestOffSec: Math.max(...stretches.off),
    glowsPerMin: glows,
  };
}

/** How far apart two rhythms are: the largest ratio among their features. */
function apart(one: Rhythm, other: Rhythm): number {
  const ratio = (a: number, b: number) => Math.max(a + 0.1, b + 0.1) / Math.min(a + 0.1, b + 0.1);
  return Math.max(
    ratio(one.longestOnSec, other.longestOnSec),
    ratio(one.longestOffSec, other.longestOffSec),
    ratio(one.glowsPerMin, other.glowsPerMin),
  );
}

const pairs = <T>(list: T[]): [T, T][] =>
  list.flatMap((a, i) => list.slice(i + 1).map((b): [T, T] => [a, b]));

describe('the light', () => {
  it.each(ALL)(
    'of %s flashes at most three times in any second (WCAG 2.3.1, from memory), dimmed or not',
    (showing) => {
      for (const dimmed of [false, true]) {
        const lit = seen(showing, 30, dimmed).map((light) => gray(light) > 0);
        for (let from = 0; from + 20 < lit.length; from++) {
          let flashes = 0;
          for (let i = from + 1; i <= from + 20; i++) if (lit[i] && !lit[i - 1]) flashes++;
          expect(flashes).toBeLessThanOrEqual(3);
        }
      }
    },
  );

  it.each(pairs(CUES))('tells %s and %s apart by rhythm alone', (one, other) => {
    expect(apart(rhythmOf(one), rhythmOf(other))).toBeGreaterThan(1.5);
    expect(apart(rhythmOf(one, true), rhythmOf(other, true))).toBeGreaterThan(1.5);
  });

  it.each(CUES)(
    'tells %s from every state without one in gray: by rhythm, or by more than twice the brightness',
    (cue) => {
      for (const state of STATES) {
        for (const dimmed of [false, true]) {
          const brightest = (showing: Showing) => Math.max(...seen(showing, 10, dimmed).map(gray));
          const isOtherRhythm = apart(rhythmOf(cue, dimmed), rhythmOf(state, dimmed)) > 1.5;
          expect(isOtherRhythm || brightest(cue) > 2 * brightest(state)).toBe(true);
        }
      }
    },
  );

  it.each(CUES)('of %s is read back from one look, dimmed or not', (cue) => {
    for (const dimmed of [false, true]) {
      const read = new Set(seen(cue, 30, dimmed).map(cueInLight));
      // The dark time between two glows is not a cue.
      read.delete(null);
      expect([...read]).toEqual([cue]);
    }
  });

  it.each(STATES)('of %s is never taken for a cue', (state) => {
    for (const dimmed of [false, true]) {
      expect(new Set(seen(state, 30, dimmed).map(cueInLight))).toEqual(new Set([null]));
    }
  });

  it('without a host, a plain white glimmer of the sleeve, is no cue', () => {
    for (let level = 0; level <= 255; level++) {
      expect(cueInLight({ red: level, green: level, blue: level })).toBeNull();
    }
  });

  it('is dark before a feed and while guidance is paused', () => {
    for (const showing of ['waiting', 'guidance-off'] as const) {
      expect(seen(showing).every((light) => gray(light) === 0)).toBe(true);
    }
  });

  it('shines from the first moment of a cue, and a cue is never dark for as long as 3 s', () => {
    for (const cue of CUES) {
      expect(gray(lightFor(cue, false, 0))).toBeGreaterThan(0);
      expect(rhythmOf(cue).longestOffSec).toBeLessThan(3);
    }
  });

  it('dimmed is a quarter as bright, but not out', () => {
    for (const showing of ALL) {
      const [full, dim] = [false, true].map((dimmed) => lightFor(showing, dimmed, 0));
      expect(gray(dim!)).toBeLessThanOrEqual(gray(full!) / 4 + 1);
      if (gray(full!) > 0) expect(gray(dim!)).toBeGreaterThan(0);
    }
  });

  it('keeps to duties that the chip can give', () => {
    for (const showing of ALL) {
      for (const level of seen(showing).flatMap((light) => Object.values(light))) {
        expect(Number.isInteger(level) && level >= 0 && level <= 255).toBe(true);
      }
    }
  });
});

describe('the sound', () => {
  it('is two soft low notes at the most, and none where nothing is to be done', () => {
    for (const showing of ALL) {
      const notes = notesFor(showing);
      if (STATES.includes(showing)) expect(notes).toBeNull();
      if (!notes) continue;
      expect(notes.repeats).toBeLessThanOrEqual(2);
      expect(notes.frequencyHz).toBeLessThanOrEqual(500);
      expect(notes.repeats * (notes.onMs + notes.offMs)).toBeLessThan(1000);
    }
  });

  it('of "too fast" is unlike every other', () => {
    const tooFast = notesFor('tilt-down');
    expect(tooFast).not.toBeNull();
    for (const cue of CUES.slice(1)) expect(notesFor(cue)).not.toEqual(tooFast);
  });

  it('leaves 10 s of quiet between two', () => {
    expect(SOUND_GAP_SEC).toBe(10);
  });
});
