/** Milk that pours from a level bottle: the nipple is to be checked. */
import { describe, expect, it } from 'vitest';
import type { PacingInput } from '../../src/pacing/cues/cue.ts';
import { becauseText } from '../../src/pacing/cues/words-because.ts';
import { BARE_GUIDANCE, FAMILY_GUIDANCE, type Guidance, WORDS } from '../../src/pacing/index.ts';
import { HELD_BACK } from '../../src/pacing/screening.ts';
import { type Away, inputList, pace } from '../support/pacing-inputs.ts';
import { steadySucks } from '../support/suck-trains.ts';

const BOUTS = [0, 60, 120].flatMap((fromSec) => steadySucks(26, fromSec, fromSec + 38));
/** The nipple is out, as when a caregiver looks at it. */
const AWAY: Away[] = [{ fromSec: 160, toSec: 200, tiltDeg: 100 }];

function feed(tiltAt: (atSec: number) => number, guidance: Guidance = FAMILY_GUIDANCE) {
  const inputs = inputList({ sucks: BOUTS, away: AWAY, endSec: 220 }).map(
    (input): PacingInput => ({ ...input, milkMl: 150 - input.intakeMl, tiltDeg: tiltAt(input.atSec) }),
  );
  return pace(inputs, null, { guidance });
}
const fastNipple = ({ cues }: ReturnType<typeof feed>) => cues.filter(({ kind }) => kind === 'fast-nipple');

describe('a nipple that is too fast', () => {
  it('is to be checked when milk comes too fast for the second time with the bottle level, once in a feed', () => {
    const run = feed(() => 95);
    const tooFast = run.cues.filter(({ kind }) => kind === 'tilt-down');
    expect(tooFast.length).toBeGreaterThanOrEqual(3);
    const found = fastNipple(run);
    expect(found.map(({ atSec }) => atSec)).toEqual([tooFast[1]!.atSec]);
    expect(becauseText(found[0]!.because, 'en')).toBe(
      '2 times milk came too fast with the bottle nearly level, at 95° just now.',
    );
    expect(becauseText(found[0]!.because, 'es')).toMatch(/^2 veces .* 95°\.$/);
  });

  it('is said when a hand is free: not while milk pours, but with the nipple out', () => {
    const said = feed(() => 95).shown.find(({ kind }) => kind === 'fast-nipple')!;
    expect(said.fromSec).toBeGreaterThanOrEqual(160);
    expect(said.fromSec).toBeLessThan(162);
  });

  it('is not suspected where the bottle is steep, or has been level for a moment only', () => {
    expect(fastNipple(feed(() => 140))).toEqual([]);
    const { cues } = feed(() => 140);
    const firedAt = cues.filter(({ kind }) => kind === 'tilt-down').map(({ atSec }) => atSec);
    const justLowered = (atSec: number) =>
      firedAt.some((one) => atSec > one - 5 && atSec <= one) ? 95 : 140;
    expect(fastNipple(feed(justLowered))).toEqual([]);
  });

  it('is not said of a baby whose "slower" cues are held back, nor in a feed from before it, nor without a family', () => {
    expect(fastNipple(feed(() => 95, { ...FAMILY_GUIDANCE, cuesOff: HELD_BACK }))).toEqual([]);
    expect(fastNipple(feed(() => 95, { ...FAMILY_GUIDANCE, fastNipple: false }))).toEqual([]);
    expect(fastNipple(feed(() => 95, BARE_GUIDANCE))).toEqual([]);
  });

  it('names no maker and promises nothing', () => {
    for (const language of ['en', 'es'] as const) {
      const { say, more } = WORDS[language].shown['fast-nipple'];
      expect(say).toMatch(/check|revise/);
      expect(`${say} ${more}`).not.toMatch(/prevent|overfe|evita|sobrealiment|safe|segur/i);
    }
  });
});
