/** What a poor estimate changes, whatever made it poor. */
import { describe, expect, it } from 'vitest';
import type { PacingInput } from '../../src/pacing/cues/cue.ts';
import { FAMILY_GUIDANCE } from '../../src/pacing/index.ts';
import { type FeedPlan, inputList, pace } from '../support/pacing-inputs.ts';
import { steadySucks } from '../support/suck-trains.ts';

const pouring: FeedPlan = { sucks: steadySucks(24, 0, 90), endSec: 90 };

const sensed = (plan: FeedPlan, quality: PacingInput['quality'], doubtMl: number): PacingInput[] =>
  inputList(plan).map((input) => ({ ...input, quality, doubtMl }));

const firstTiltDownSec = (inputs: PacingInput[]): number | undefined =>
  pace(inputs).cues.find((cue) => cue.kind === 'tilt-down')?.atSec;

describe('"too fast" with doubt', () => {
  // At 24 mL/min the pouring bucket gains 10 mL a minute: 1 mL of margin is 6 s.
  const exactSec = firstTiltDownSec(inputList(pouring))!;

  // A degraded estimate states a larger deviation itself, so the margin is the same.
  it.each(['good', 'degraded'] as const)(
    'waits for a quarter of the standard deviation while the estimate is %s: 1.5 s for 1 mL',
    (quality) => {
      expect(firstTiltDownSec(sensed(pouring, quality, 1))! - exactSec).toBeGreaterThan(0.9);
      expect(firstTiltDownSec(sensed(pouring, quality, 1))! - exactSec).toBeLessThan(2.2);
    },
  );

  it('does not come at all without an estimate', () => {
    expect(firstTiltDownSec(sensed(pouring, 'none', 0))).toBeUndefined();
  });

  it('comes as soon as the doubt is smaller', () => {
    const goodSec = exactSec + 4;
    const inputs = inputList(pouring).map(
      (input): PacingInput => ({ ...input, doubtMl: input.atSec < goodSec ? 8 : 0, quality: 'degraded' }),
    );
    expect(firstTiltDownSec(inputs)).toBeCloseTo(goodSec, 1);
  });
});

describe('hints with doubt', () => {
  const toil: FeedPlan = { sucks: steadySucks(0.5, 0, 300), endSec: 300 };
  const kinds = (quality: PacingInput['quality'], more: Partial<PacingInput>): string[] =>
    pace(
      sensed(toil, quality, 0).map((input) => ({ ...input, ...more })),
      null,
      { guidance: FAMILY_GUIDANCE },
    ).cues.map((cue) => cue.kind);

  it.each([
    ['little-coming', {}],
    ['lower-is-fine', { headMm: 30, coverTiltDeg: 90, tiltDeg: 140 }],
    ['hole-dry', { headMm: -10, coverTiltDeg: 100 }],
  ] as const)('%s comes from a good estimate only', (kind, more) => {
    expect(kinds('good', more)).toContain(kind);
    expect(kinds('degraded', more)).not.toContain(kind);
  });
});

describe('"enough?" with doubt', () => {
  const asked = (sucksToSec: number, countedToSec: number): boolean => {
    const inputs = inputList({ sucks: steadySucks(6, 0, sucksToSec), endSec: 900 });
    const counted = inputs.findLast(({ atSec }) => atSec < countedToSec)!;
    return pace(
      inputs.map((input): PacingInput => {
        if (input.atSec < 420) return input;
        const { suckCount, lastSuckAtSec } = input.atSec < countedToSec ? input : counted;
        return { ...input, suckCount, lastSuckAtSec, quality: 'degraded' };
      }),
    ).cues.some((cue) => cue.kind === 'offer-stop');
  };

  it('is asked all the same when sucks and milk have stopped', () => {
    expect(asked(420, 900)).toBe(true);
  });

  it('is not asked when a poor estimate loses the sucks while milk goes on', () => {
    expect(asked(900, 420)).toBe(false);
  });
});
