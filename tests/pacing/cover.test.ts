import { describe, expect, it } from 'vitest';
import type { PacingInput } from '../../src/pacing/cues/cue.ts';
import { becauseText } from '../../src/pacing/cues/words-because.ts';
import { FAMILY_GUIDANCE } from '../../src/pacing/index.ts';
import { inputList, pace } from '../support/pacing-inputs.ts';
import { steadySucks } from '../support/suck-trains.ts';

interface Hold {
  tiltDeg: number;
  headMm: number | null;
  coverTiltDeg: number | null;
}
const LEVEL: Hold = { tiltDeg: 95, headMm: 6, coverTiltDeg: 92 };
const STEEP: Hold = { tiltDeg: 140, headMm: 60, coverTiltDeg: 92 };
const DRY: Hold = { tiltDeg: 95, headMm: -8, coverTiltDeg: 110 };

/** Gentle sucking held as `hold` tells. @returns hints with their times */
function hints(hold: (atSec: number) => Hold, toSec: number, sucksToSec = toSec) {
  const inputs: PacingInput[] = inputList({ sucks: steadySucks(5, 0, sucksToSec), endSec: toSec }).map(
    (input) => ({
      ...input,
      ...hold(input.atSec),
    }),
  );
  return pace(inputs, null, { guidance: FAMILY_GUIDANCE }).cues.filter(
    (cue) => cue.kind === 'lower-is-fine' || cue.kind === 'hole-dry',
  );
}

describe('how the bottle is held', () => {
  it('a level hold that just covers the hole: nothing', () => {
    expect(hints(() => LEVEL, 400)).toEqual([]);
  });

  it('steep for 15 s: "lower is fine", with the angles; again after 3 minutes at the soonest', () => {
    const cues = hints(() => STEEP, 400);
    expect(cues.map((cue) => cue.kind)).toEqual(['lower-is-fine', 'lower-is-fine', 'lower-is-fine']);
    expect(becauseText(cues[0]!.because, 'en')).toBe('Held at 140°; milk covers the hole from 92° on.');
    expect(cues[0]!.atSec).toBeLessThan(20);
    expect(cues[1]!.atSec - cues[0]!.atSec).toBeGreaterThanOrEqual(180);
  });

  it('dry while baby sucks: said; dry in a pause: not', () => {
    expect(becauseText(hints(() => DRY, 60)[0]!.because, 'en')).toBe(
      'The milk lies 8 mm under the hole while baby sucks.',
    );
    expect(hints(() => DRY, 60, 3)).toEqual([]);
  });

  it('a bottle lowered by the caregiver: no hint for 10 s and until sucking resumes', () => {
    // Lowered at 60 s and kept low: until 71 s it is lower than it was on average before.
    const hold = (atSec: number): Hold => (atSec < 60 ? LEVEL : { ...DRY, tiltDeg: 70 });
    const goesOn = hints(hold, 130);
    expect(goesOn).toHaveLength(1);
    expect(goesOn[0]!.atSec).toBeGreaterThan(71 + 10 + 14);
    // Sucking stops at 58 s and comes back at 120 s: five sucks, then 15 s of it.
    expect(hints(hold, 130, 58)).toEqual([]);
    const sucks = [...steadySucks(5, 0, 58), ...steadySucks(5, 120, 200)];
    const inputs = inputList({ sucks, endSec: 200 }).map((input) => ({ ...input, ...hold(input.atSec) }));
    const [back] = pace(inputs, null, { guidance: FAMILY_GUIDANCE }).cues.filter(
      (cue) => cue.kind === 'hole-dry',
    );
    expect(back!.atSec).toBeGreaterThan(138);
  });

  it('nothing if no tilt covers the hole: nobody should be urged to finish', () => {
    expect(hints(() => ({ ...DRY, coverTiltDeg: null }), 120)).toEqual([]);
  });

  it('a hint makes way for "too fast" and does not come back behind it, nor with the nipple out', () => {
    const plan = {
      sucks: steadySucks(24, 0, 45),
      endSec: 100,
      away: [{ fromSec: 60, toSec: 100, tiltDeg: 30 }],
    };
    const inputs = inputList(plan).map((input) => ({ ...input, ...STEEP }));
    const { shown } = pace(inputs, null, { guidance: FAMILY_GUIDANCE });
    expect(shown.map((one) => one.kind)).toEqual(['lower-is-fine', null, 'tilt-down', null]);
    const away = [{ fromSec: 20, toSec: 60, tiltDeg: 30 }];
    const out = inputList({ sucks: steadySucks(5, 0, 20), endSec: 60, away }).map((input) => ({
      ...input,
      ...STEEP,
    }));
    const last = pace(out, null, { guidance: FAMILY_GUIDANCE }).shown.at(-1)!;
    expect(last.kind).toBeNull();
    expect(last.fromSec).toBeCloseTo(20, 1);
  });

  it('nothing while the milk is not known', () => {
    expect(hints(() => ({ tiltDeg: 140, headMm: null, coverTiltDeg: null }), 120)).toEqual([]);
  });
});
