import { describe, expect, it } from 'vitest';
import { type TechniqueRow, techniqueOf, techniqueWords } from '../../src/pacing/technique.ts';

/** Rows twice a second: stretches of `sec` at a tilt, with the nipple in unless stated. */
function held(...stretches: [sec: number, tiltDeg: number, teatIn?: boolean][]): TechniqueRow[] {
  const rows: TechniqueRow[] = [];
  let fromSec = 100;
  for (const [sec, tiltDeg, teatInMouth = true] of stretches) {
    for (let t = 0; t < sec; t += 0.5) rows.push({ atSec: fromSec + t, tiltDeg, teatInMouth });
    fromSec += sec;
  }
  return rows;
}

const every = (fromSec: number, toSec: number): number[] =>
  Array.from({ length: Math.round(toSec - fromSec) }, (_, i) => fromSec + i);

describe('how a feed was given', () => {
  it('with a doll, which does not suck: pauses by the bottle', () => {
    // 60 s level, lowered 5 s, 30 s level, lowered 2 s (too short), 20 s level, burp of 20 s, 40 s steep.
    const rows = held([60, 95], [5, 80], [30, 95], [2, 80], [20, 95], [20, 25, false], [40, 140]);
    expect(techniqueOf(rows)).toEqual({
      feedSec: 176.5,
      inMouthSec: expect.closeTo(156.5, 0),
      nearlyLevelSec: expect.closeTo(117, 0),
      longestRunWithoutPauseSec: 60,
      pauses: 2,
      burps: 1,
    });
  });

  it('what comes before the first and after the last time in the mouth is not counted', () => {
    const rows = held([30, 0, false], [60, 95], [40, 10, false]);
    expect(techniqueOf(rows)).toMatchObject({ feedSec: 59.5, burps: 0, pauses: 0 });
    expect(techniqueOf(held([30, 0, false]))).toBeNull();
    expect(techniqueOf([])).toBeNull();
  });

  it('a rest of the baby is a pause too, and one with a lowering bottle only once', () => {
    const rows = held([40, 95], [6, 80], [40, 95]);
    const suckAtSec = [...every(100, 141), ...every(146, 160), ...every(170, 186)];
    const { pauses, longestRunWithoutPauseSec } = techniqueOf(rows, { suckAtSec })!;
    expect(pauses).toBe(2);
    expect(longestRunWithoutPauseSec).toBe(40);
  });

  it('from steep to level for good is one pause, not a pause without end', () => {
    const technique = techniqueOf(held([60, 145], [300, 95]))!;
    expect(technique.pauses).toBe(1);
    expect(technique.longestRunWithoutPauseSec).toBeGreaterThan(260);
  });

  it('a burp said by hand counts unless the bottle showed the same one', () => {
    const rows = held([60, 95], [20, 25, false], [120, 95]);
    expect(techniqueOf(rows, { burpedAtSec: [165] })!.burps).toBe(1);
    expect(techniqueOf(rows, { burpedAtSec: [165, 250] })!.burps).toBe(2);
  });

  it('a gap in the rows does not count as a hold', () => {
    const rows = [...held([10, 95]), ...held([10, 95]).map((row) => ({ ...row, atSec: row.atSec + 600 }))];
    expect(techniqueOf(rows)!.inMouthSec).toBeLessThan(22);
  });
});

describe('its words', () => {
  const words = techniqueWords({
    feedSec: 872,
    inMouthSec: 700,
    nearlyLevelSec: 500,
    longestRunWithoutPauseSec: 78,
    pauses: 21,
    burps: 3,
  });

  it('say what was done', () => {
    expect(words.en).toEqual([
      'From first to last: 14½ minutes, burps and breaks included.',
      'Bottle nearly level: 8½ minutes of 11½ minutes with the nipple in.',
      'Longest run without a pause: 80 seconds.',
      'Pauses: 21. Burps: 3.',
    ]);
    expect(words.es).toHaveLength(4);
  });

  it('have no score, no praise, no amount', () => {
    for (const line of [...words.en, ...words.es]) {
      expect(line).not.toMatch(
        /\bmL\b|\boz\b|%|score|points|great|good|well done|best|goal|punto|bien|bravo|meta/i,
      );
    }
  });
});
