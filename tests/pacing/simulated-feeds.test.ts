/** A few whole simulated feeds, sleeve and all; two hundred of them are in `npm run bench pacing`. */
import { describe, expect, it } from 'vitest';
import { FAMILY_GUIDANCE } from '../../src/pacing/index.ts';
import { type PacedFeed, runFeed } from '../bench/paced-feed.ts';

const run = (follows: boolean): PacedFeed =>
  runFeed({ scenario: 'tipped-up', seed: 500, follows, guidance: FAMILY_GUIDANCE });

describe('a bottle tipped up over a hungry baby', () => {
  it('lasts 5 minutes when nobody follows, 12 to 25 when somebody does, with 8 cues shown at most', () => {
    const alone = run(false);
    const followed = run(true);
    expect(alone.truth.durationSec / 60).toBeLessThan(6);
    expect(followed.truth.durationSec / 60).toBeGreaterThan(12);
    expect(followed.truth.durationSec / 60).toBeLessThan(25);
    expect(followed.shown.length).toBeLessThanOrEqual(8);
    // The sleeve paces; it does not change how much a hungry baby takes here.
    expect(Math.abs(followed.truth.intakeMl - alone.truth.intakeMl)).toBeLessThan(2);
  });

  it('is told first within 8 s of the ideal buckets', () => {
    const { cues, truth } = run(false);
    const idealSec = Math.min(
      ...truth.buckets.map(({ crossings }) => crossings[0] ?? Number.POSITIVE_INFINITY),
    );
    expect(Math.abs(cues.find((cue) => cue.kind === 'tilt-down')!.atSec - idealSec)).toBeLessThan(8);
  });
});

describe('a replay, which knows no family', () => {
  it('gives the four kinds of the sleeve contract alone', () => {
    const { cues } = runFeed({ scenario: 'tipped-up', seed: 501 });
    for (const { kind } of cues) expect(['tilt-down', 'burp', 'switch-side', 'offer-stop']).toContain(kind);
    expect(cues.length).toBeGreaterThan(3);
  });
});
