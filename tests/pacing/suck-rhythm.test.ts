import { describe, expect, it } from 'vitest';
import { becauseText } from '../../src/pacing/cues/words-because.ts';
import { BARE_GUIDANCE } from '../../src/pacing/index.ts';
import { inputsOf, pace } from '../support/pacing-inputs.ts';
import { type Suck, steadySucks } from '../support/suck-trains.ts';

const guidance = { ...BARE_GUIDANCE, suckRhythm: true };
/** Bursts of so many sucks, one a second, with pauses between. */
const bursts = (sucks: number, pauseSec: number, count: number): Suck[] =>
  Array.from({ length: count }, (_, burst) => {
    const fromSec = burst * (sucks + pauseSec);
    return steadySucks(6, fromSec, fromSec + sucks - 0.01);
  }).flat();
const rests = (sucks: Suck[], endSec: number, on = true) =>
  pace(inputsOf({ sucks, endSec }), null, on ? { guidance } : {});

describe('many sucks without a pause', () => {
  it('bring no cue unless a family turns the rule on', () => {
    const { cues } = rests(steadySucks(6, 0, 120), 120, false);
    expect(cues.map((cue) => cue.kind)).not.toContain('breath-pause');
  });

  it('come after the eighth suck, and say so', () => {
    const { cues } = rests(steadySucks(6, 1, 16), 16);
    expect(cues).toHaveLength(1);
    expect(cues[0]!.atSec).toBeCloseTo(8, 1);
    expect(becauseText(cues[0]!.because, 'en')).toBe('8 sucks without a pause.');
  });

  it('do not come for 5 to 7 sucks with pauses of 3 to 5 s: a caregiver who already pauses hears nothing', () => {
    for (const [sucks, pauseSec] of [
      [5, 4],
      [7, 5],
      [7, 4],
    ] as const) {
      expect(rests(bursts(sucks, pauseSec, 15), 180).shown, `${sucks}/${pauseSec}`).toEqual([]);
    }
  });

  it('come again only after a pause, and 20 s apart at the soonest', () => {
    const once = rests(steadySucks(6, 0, 100), 100).cues.filter((cue) => cue.kind === 'breath-pause');
    expect(once).toHaveLength(1);
    const { cues } = rests(bursts(10, 4, 10), 140);
    const times = cues.filter((cue) => cue.kind === 'breath-pause').map((cue) => cue.atSec);
    expect(times.length).toBeGreaterThan(3);
    for (const [i, at] of times.slice(1).entries()) expect(at - times[i]!).toBeGreaterThanOrEqual(20);
  });

  it('are shown until the pause has come', () => {
    const { shown } = rests(bursts(10, 6, 1), 30);
    expect(shown.map((one) => one.kind)).toEqual(['breath-pause', null]);
    // The tenth suck begins at 9 s.
    expect(shown[1]!.fromSec).toBeCloseTo(12, 0);
  });
});
