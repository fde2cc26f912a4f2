/** Curves of a group on hand-made feeds whose answers are known. */
import { describe, expect, it } from 'vitest';
import { briefOf, type SessionBrief } from '../../src/research/group/brief.ts';
import { curvesByArm } from '../../src/research/group/curves.ts';
import { outcomeOf } from '../../src/research/group/outcomes.ts';
import { PUBLISHED_CURVES } from '../../src/research/group/published-curves.ts';
import { indicesOf } from '../../src/research/indices/indices.ts';
import type { RefinedFeed } from '../../src/sensing/index.ts';

/** Latch at 5 s, first suck at 8 s, 6 mL/min from there to `endSec`; rows twice a second. */
function evenFeed(endSec: number): RefinedFeed {
  const atSec = Array.from({ length: 2 * endSec + 20 }, (_, i) => i / 2);
  const taken = (sec: number) => Math.max(0, Math.min(sec, endSec) - 8) * 0.1;
  return {
    atSec,
    milkMl: atSec.map((sec) => 100 - taken(sec)),
    milkSdMl: atSec.map(() => 0.3),
    intakeMl: atSec.map(taken),
    flowMlPerMin: atSec.map((sec) => (sec >= 8 && sec <= endSec ? 6 : null)),
    teatInMouth: atSec.map((sec) => sec >= 5 && sec <= endSec),
    quality: atSec.map((sec) => (sec < 100 ? 'good' : 'degraded')),
    totals: { intakeMl: taken(endSec), spiltMl: 0, addedMl: 0 },
    suckAtSec: [8, 9, 10],
    events: [],
  };
}

const brief = (participant: string, arm: string, over: Partial<SessionBrief> = {}): SessionBrief => ({
  session: `${participant}-001`,
  participant,
  arm,
  alignedAt: 'first-suck',
  lengthMin: 1,
  intakeMl: [0, 1, 2],
  flowMlPerMin: [6, 6, 6],
  indices: {},
  goodShare: 1,
  ...over,
});

const computed = (refined: RefinedFeed) => ({
  refined,
  indices: indicesOf({ refined, portionMl: null, sucksUncertain: false }),
});

describe('a session’s part in the curves', () => {
  it('begins at the first suck, ends with the nipple, and is straight between rows', () => {
    const feed = evenFeed(128);
    const one = briefOf({ session: 'F07-001', participant: 'F07', arm: 'shown' }, computed(feed));
    expect(one.alignedAt).toBe('first-suck');
    expect(one.lengthMin).toBeCloseTo(2, 10);
    expect(one.intakeMl).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]);
    expect(one.flowMlPerMin).toEqual(Array(13).fill(6));
    expect(one.indices.intakeMl).toBeCloseTo(12, 10);
    // Three sucks in one burst are too few for what is told of bursts.
    expect(one.indices.sucksPerBurst).toBeUndefined();
    // Rows 5 to 99.5 s are good, those up to 128 s are not.
    expect(one.goodShare).toBeCloseTo(190 / 247, 10);
    const without = briefOf(
      { session: 'F07-001', participant: 'F07', arm: 'shown' },
      computed({ ...feed, suckAtSec: [] }),
    );
    expect(without).toMatchObject({ alignedAt: 'first-latch', lengthMin: expect.closeTo(123 / 60, 10) });
  });
});

describe('the curves of an arm', () => {
  it('are means over participants, however many feeds each has', () => {
    const briefs = [
      brief('A', 'x', { intakeMl: [0, 10], flowMlPerMin: [4, 4] }),
      brief('A', 'x', { intakeMl: [0, 20], flowMlPerMin: [8, 8] }),
      brief('A', 'x', { intakeMl: [0, 30], flowMlPerMin: [12, 12] }),
      brief('B', 'x', { intakeMl: [0, 40], flowMlPerMin: [2, 2] }),
      brief('C', 'y'),
    ];
    const [x, y] = curvesByArm(briefs);
    expect(x).toMatchObject({ arm: 'x', participants: 2, sessions: 4 });
    // A's feeds average 20, B's is 40: mean 30, standard deviation 10 √2; t of one degree of freedom is 12.706.
    expect(x!.intakeMl[1]).toMatchObject({ n: 2, mean: 30, sd: expect.closeTo(14.1421, 4) });
    expect(x!.intakeMl[1]!.high - 30).toBeCloseTo((12.706 * 14.1421) / Math.SQRT2, 2);
    expect(x!.flowMlPerMin[1]).toMatchObject({ mean: 5 });
    expect(x!.flowMlPerMin[1]!.min).toBeCloseTo(1 / 6, 10);
    // With one participant there is no spread, so nothing is drawn.
    expect(y).toMatchObject({ arm: 'y', participants: 1, intakeMl: [], flowMlPerMin: [] });
  });

  it('keep what was taken after a feed’s end, and stop the flow where fewer than half still feed', () => {
    const briefs = [
      brief('A', 'x', { intakeMl: [0, 5], flowMlPerMin: [6, 6] }),
      brief('B', 'x', { intakeMl: [0, 5, 10, 15], flowMlPerMin: [6, 6, 6, 6] }),
      brief('C', 'x', { intakeMl: [0, 5, 10], flowMlPerMin: [6, 6, 3] }),
    ];
    const [{ intakeMl, flowMlPerMin }] = curvesByArm(briefs) as [ReturnType<typeof curvesByArm>[number]];
    expect(intakeMl.map(({ mean }) => mean)).toEqual([0, 5, 25 / 3, 10]);
    expect(flowMlPerMin.map(({ mean, n }) => [mean, n])).toEqual([
      [6, 3],
      [6, 3],
      [4.5, 2],
    ]);
  });
});

describe('an outcome', () => {
  it('goes by participants, each arm against the first, and counts what is missing', () => {
    const given = (participant: string, arm: string, ...values: (number | null)[]) =>
      values.map((value) => brief(participant, arm, { indices: value === null ? {} : { intakeMl: value } }));
    const briefs = [
      ...given('B', 'x', 10, 12),
      ...given('A', 'x', 20, null),
      ...given('D', 'y', 30, 34),
      ...given('C', 'y', 40),
      ...given('E', 'y', null),
    ];
    const outcome = outcomeOf(briefs, 'intakeMl');
    expect(outcome.missing).toBe(2);
    expect(
      outcome.participants.map(({ participant, mean, sessions }) => [participant, mean, sessions]),
    ).toEqual([
      ['A', 20, 1],
      ['B', 11, 2],
      ['C', 40, 1],
      ['D', 32, 2],
    ]);
    expect(outcome.participants[0]!.interval).toBeNull();
    // Of 10 and 12: 11 ± 12.706.
    expect(outcome.participants[1]!.interval!.high).toBeCloseTo(11 + 12.7062, 3);
    expect(outcome.effects).toMatchObject([
      { first: 'x', second: 'y', effect: { difference: { value: 20.5 } } },
    ]);
    expect(outcome.effects[0]!.design).toBe('between');
    // Without any spread no interval is given: one of zero width would be wrong.
    const still = [
      ...given('A', 'x', 1),
      ...given('B', 'x', 1),
      ...given('C', 'y', 2),
      ...given('D', 'y', 2),
    ];
    expect(outcomeOf(still, 'intakeMl').effects).toEqual([]);
    expect(outcomeOf(given('A', 'x', 1), 'intakeMl')).toMatchObject({ arms: [], effects: [] });
  });
});

describe('an outcome of people who were in both arms', () => {
  it('has the interval that R’s paired t.test prints for Student’s sleep data (Biometrika 1908; from memory)', () => {
    const first = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0, 2];
    const second = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];
    const of = (arm: string, values: number[]) =>
      values.map((intakeMl, i) => brief(`P${i}`, arm, { indices: { intakeMl } }));
    const briefs = [...of('x', first), ...of('y', second)];
    const [one] = outcomeOf(briefs, 'intakeMl').effects;
    // "95 percent confidence interval: -2.4598858 -0.7001142" for first less second.
    expect(one).toMatchObject({ design: 'within', effect: { hedgesG: null } });
    expect(one!.effect.difference.value).toBeCloseTo(1.58, 10);
    expect(one!.effect.difference.low).toBeCloseTo(0.7001142, 6);
    expect(one!.effect.difference.high).toBeCloseTo(2.4598858, 6);
    // If a participant was in one arm only, the arms are compared between participants.
    expect(outcomeOf(briefs.slice(1), 'intakeMl').effects[0]!.design).toBe('between');
  });
});

describe('the published curves', () => {
  it('go through the numbers of their papers', () => {
    const at = (i: number, min: number) => PUBLISHED_CURVES[i]!.points.find(([x]) => x === min)![1];
    // Lucas 1981: 84 % of 75 mL within the two times four minutes; by 1980's shape it is 85 %.
    expect(at(0, 4) + at(0, 19) - at(0, 15)).toBeCloseTo(0.85 * 75, 6);
    expect(at(0, 25)).toBe(75);
    // Bottle: 5.4 mL/min in the first ten minutes.
    expect(at(2, 10) / 10).toBeCloseTo(5.4, 1);
    for (const { points } of PUBLISHED_CURVES)
      points.slice(1).forEach(([min, ml], i) => {
        expect(min).toBeGreaterThan(points[i]![0]);
        expect(ml).toBeGreaterThanOrEqual(points[i]![1]);
      });
  });
});
