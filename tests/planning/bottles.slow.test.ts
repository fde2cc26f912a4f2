import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { PlainError } from '../../src/base/errors.ts';
import { mlFromFlOz } from '../../src/base/units.ts';
import { type BottlePlan, planBottles } from '../../src/planning/bag/bottles.ts';
import { type PackingRules, USUAL_RULES } from '../../src/planning/bag/packing-rules.ts';
import { dayKinds, learnBaby } from '../../src/planning/intake/intake-model.ts';
import type { Container } from '../../src/planning/milk/milk.ts';
import { AWAY, at, container, FOURTEEN, frozen } from './milk-on-hand.ts';

const KINDS = dayKinds(learnBaby(120, []), { feeds: 3, hours: 9 });
const plan = (rules: Partial<PackingRules> = {}, containers: Container[] = FOURTEEN): BottlePlan =>
  planBottles(KINDS, containers, AWAY, { ...USUAL_RULES, ...rules });

/** What was taken from each container. */
function takenFrom({ bottles, rests }: BottlePlan): Map<string, number> {
  const taken = new Map<string, number>();
  for (const { from } of bottles) for (const { id, ml } of from) taken.set(id, (taken.get(id) ?? 0) + ml);
  for (const { id, ml } of rests) taken.set(id, (taken.get(id) ?? 0) + ml);
  return taken;
}

describe('a plan of bottles', () => {
  it('keeps the chance of running short under her limit, and throws less away when she allows more', () => {
    const plans = [0.02, 0.05, 0.1, 0.25].map((shortLimit) =>
      plan({ shortLimit, bottlePriceMl: 0 }, [container('plenty', 900)]),
    );
    plans.forEach(({ outcome, meetsLimit }, i) => {
      expect(meetsLimit).toBe(true);
      expect(outcome.shortChance).toBeLessThanOrEqual([0.02, 0.05, 0.1, 0.25][i]!);
    });
    const thrown = plans.map(({ outcome }) => outcome.thrownMl);
    expect(thrown).toEqual([...thrown].sort((a, b) => b - a));
  });

  it('says so when the limit cannot be kept with the milk there is', () => {
    const little = plan({}, [container('A', 90), container('B', 90), container('C', 60)]);
    expect(little.meetsLimit).toBe(false);
    expect(little.outcome.shortChance).toBeGreaterThan(0.5);
    expect(little.bottles.length).toBeGreaterThanOrEqual(3);
  });

  it('has a trade-off curve: less often short, more thrown away', () => {
    const { curve } = plan();
    expect(curve.length).toBeGreaterThan(5);
    for (let i = 1; i < curve.length; i++) {
      expect(curve[i]!.shortChance).toBeGreaterThan(curve[i - 1]!.shortChance);
      expect(curve[i]!.thrownMl).toBeLessThan(curve[i - 1]!.thrownMl);
    }
  });

  it('stands beside the rule of thumb and last week’s most, in equal bottles', () => {
    const { plain } = planBottles(KINDS, FOURTEEN, AWAY, USUAL_RULES, { lastWeekMostMl: 300 });
    expect(plain.map(({ name, bottles }) => [name, bottles])).toEqual([
      ['rule-of-thumb', 3],
      ['last-week', 3],
    ]);
    // 11 hours at 1¼ fl oz are 13.75 fl oz: three bottles of 5. 300 mL are 10.1 fl oz: three of 3½.
    expect(plain.map(({ sizeMl }) => sizeMl / mlFromFlOz(1))).toEqual([
      expect.closeTo(5, 6),
      expect.closeTo(3.5, 6),
    ]);
  });

  it('has the plans of a stricter and a looser limit beside it, from seldom to often short', () => {
    const { choices, outcome } = plan({}, [container('plenty', 900)]);
    expect(choices.map(({ shortLimit }) => shortLimit)).toEqual([0.02, 0.05, 0.1]);
    expect(choices[1]!.shortChance).toBe(outcome.shortChance);
    for (const { shortChance, shortLimit } of choices) expect(shortChance).toBeLessThanOrEqual(shortLimit);
    expect(choices[0]!.thrownMl).toBeGreaterThan(choices[2]!.thrownMl);
  });

  it('packs fewer bottles the more one is worth, and says what one fewer would do', () => {
    const plenty = [container('plenty', 900)];
    const counts = [0, 12, 40].map((bottlePriceMl) => plan({ bottlePriceMl }, plenty).bottles.length);
    expect(counts).toEqual([...counts].sort((a, b) => b - a));
    expect(counts[0]!).toBeGreaterThan(counts[2]!);
    const { oneFewer, outcome } = plan({}, plenty);
    const isWorse = oneFewer!.shortChance > 0.05 || oneFewer!.thrownMl > outcome.thrownMl;
    expect(isWorse).toBe(true);
  });

  it('never pours breast milk and formula into one bottle', () => {
    const formula = { kind: 'formula' as const, expressedAtMs: AWAY.fromMs - 3_600_000 };
    const stock = [
      container('A', 130),
      container('B', 100),
      container('F1', 150, formula),
      container('F2', 150, formula),
    ];
    const { bottles } = plan({}, stock);
    expect(bottles.some(({ from }) => from.some(({ id }) => id.startsWith('F')))).toBe(true);
    for (const { from } of bottles) expect(new Set(from.map(({ id }) => id.startsWith('F'))).size).toBe(1);
  });

  it('counts what is lost without being opened: thawed milk that comes back, the rest of a thawed container, milk about to pass', () => {
    const fresh = plan({ shortLimit: 0.02 }, [container('plenty', 900)]).outcome.thrownMl;
    const thawed = plan({ shortLimit: 0.02 }, [frozen('ice', 900)]).outcome.thrownMl;
    // All of the 900 mL is thawed for the day, so what the baby does not drink is thrown away.
    expect(thawed).toBeGreaterThan(fresh + 300);
    const small = Array.from({ length: 15 }, (_, i) => frozen(`i${i}`, 60));
    expect(plan({ shortLimit: 0.02 }, small).outcome.thrownMl).toBeLessThan(thawed - 200);
    const passing = { expressedAtMs: AWAY.untilMs - 93 * 3_600_000 };
    expect(plan({ shortLimit: 0.02 }, [container('plenty', 900, passing)]).outcome.thrownMl).toBeGreaterThan(
      fresh + 300,
    );
  });

  it('judges frozen milk as it will be once it was taken out for that day', () => {
    // A rule of the place gives thawed milk 8 hours: the night and the day are longer than that.
    const local = [{ situation: 'thawed-fridge' as const, hours: 8, name: 'Center’s sheet' }];
    const { left, thaw } = plan({ localTimes: local }, [...FOURTEEN, container('plenty', 500)]);
    expect(left).toContainEqual({ id: 'G', because: 'time-passes' });
    expect(thaw).toEqual([]);
  });

  it('pours fridge first, then oldest frozen, and each millilitre once', () => {
    const packed = plan();
    const order = packed.bottles.flatMap(({ from }) => from.map(({ id }) => id));
    const wanted = ['C', 'A', 'B', 'D', 'E', 'F', 'G', 'H', 'I', 'J', 'K', 'L', 'M', 'N'];
    expect([...new Set(order)]).toEqual(wanted.slice(0, new Set(order).size));
    for (const { ml, from } of packed.bottles)
      expect(from.reduce((sum, one) => sum + one.ml, 0)).toBeCloseTo(ml, 6);
  });

  it.each([2, 3])('with %i bottles for 3 feeds does what it can, or says what is wrong', (mostBottles) => {
    if (mostBottles === 2)
      expect(() => plan({ mostBottles, spare: null })).toThrow(/2 bottles are too few for 3 feeds/);
    else expect(plan({ mostBottles, spare: null }).bottles).toHaveLength(3);
  });

  it('counts bottles that do not come back', () => {
    expect(plan({ unopened: 'thrown-away' }).outcome.thrownMl).toBeGreaterThan(plan().outcome.thrownMl + 50);
  });

  it('reckons with the spare only where her rule lets it be opened', () => {
    const spare = (rule: 'last' | 'kept-apart') => plan({ mostBottles: 6, spare: { ml: 59, rule } });
    expect(spare('last').outcome.shortChance).toBeLessThan(spare('kept-apart').outcome.shortChance);
    for (const { bottles } of [spare('last'), spare('kept-apart')])
      expect(bottles.filter(({ role }) => role === 'spare')).toHaveLength(1);
    expect(
      plan({ pouring: 'none', spare: { ml: 30, rule: 'last' } }, FOURTEEN.slice(0, 6)).spareMissing,
    ).toBe(true);
  });

  it('leaves alone what is held back, and what passes a published time, or the center’s, before she is back', () => {
    const old = container('old', 200, { expressedAtMs: at('2026-05-08T20:00:00Z') });
    const held = container('held', 200, { heldBack: true });
    const all = [old, held, ...FOURTEEN];
    const { left } = plan({}, all);
    expect(left).toContainEqual({ id: 'old', because: 'time-passes' });
    expect(left).toContainEqual({ id: 'held', because: 'held-back' });
    const local = [{ situation: 'fridge' as const, hours: 36, name: 'Center’s sheet' }];
    const { left: stricter } = plan({ localTimes: local }, all);
    expect(stricter).toContainEqual({ id: 'C', because: 'time-passes' });
    expect(left.map(({ id }) => id)).not.toContain('C');
  });

  it('sends containers as they are where nothing may be poured over, frozen ones only when the rest is too little', () => {
    const { bottles, rests, outcome } = plan({ pouring: 'none' });
    expect(rests).toEqual([]);
    for (const { from, ml } of bottles) {
      expect(from).toHaveLength(1);
      expect(FOURTEEN.find(({ id }) => id === from[0]!.id)!.volumeMl).toBe(ml);
    }
    expect(outcome.shortChance).toBeLessThanOrEqual(0.05);
    const plenty = [
      ...FOURTEEN,
      container('O', 60),
      container('P', 60),
      container('Q', 30),
      container('R', 45),
    ];
    const used = plan({ pouring: 'none', spare: null }, plenty).bottles.map(({ from }) => from[0]!.id);
    for (const id of used) expect(plenty.find((one) => one.id === id)!.place).toBe('fridge');
  });

  it('says how much is thawed for it', () => {
    expect(plan({}, [container('big', 900)]).thawedMl).toBe(0);
    const { thawedMl, rests } = plan({}, [frozen('big', 900)]);
    expect(thawedMl).toBeCloseTo(900, 6);
    expect(rests[0]).toMatchObject({ id: 'big', thawedForThis: true });
  });

  it('obeys every rule, whatever they are and whatever milk there is', () => {
    const milk = fc.uniqueArray(
      fc.record({
        n: fc.nat(999),
        ml: fc.integer({ min: 20, max: 180 }),
        isFrozen: fc.boolean(),
        heldBack: fc.boolean(),
      }),
      { selector: ({ n }) => n, minLength: 5, maxLength: 14 },
    );
    const rules = fc.record({
      shortLimit: fc.constantFrom(0.02, 0.1, 0.3),
      mostBottles: fc.integer({ min: 4, max: 14 }),
      pouring: fc.constantFrom('at-home' as const, 'none' as const),
      unopened: fc.constantFrom('comes-back' as const, 'thrown-away' as const),
    });
    fc.assert(
      fc.property(milk, rules, (made, some) => {
        const containers = made.map(({ n, ml, isFrozen, heldBack }) => ({
          ...(isFrozen ? frozen(`m${n}`, ml) : container(`m${n}`, ml)),
          heldBack,
        }));
        let packed: BottlePlan;
        try {
          packed = plan(some, containers);
        } catch (error) {
          expect(error).toBeInstanceOf(PlainError);
          return;
        }
        expect(packed.bottles.length).toBeLessThanOrEqual(some.mostBottles);
        for (const [id, ml] of takenFrom(packed)) {
          const from = containers.find((one) => one.id === id)!;
          expect(from.heldBack).toBe(false);
          expect(ml).toBeLessThanOrEqual(from.volumeMl + 1e-6);
        }
        if (some.pouring === 'none') {
          const ids = packed.bottles.map(({ from }) => from[0]!.id);
          expect(new Set(ids).size).toBe(ids.length);
        }
        expect(packed.meetsLimit).toBe(packed.outcome.shortChance <= some.shortLimit + 1e-9);
        const everywhere = [...takenFrom(packed).keys(), ...packed.left.map(({ id }) => id)];
        expect(everywhere.sort()).toEqual(containers.map(({ id }) => id).sort());
      }),
      { numRuns: 25, seed: 4 },
    );
  });

  it.each([
    ['a limit of 0', { shortLimit: 0 }],
    ['a limit of 2', { shortLimit: 2 }],
    ['half a bottle', { mostBottles: 4.5 }],
    ['a spare of 4 oz', { spare: { ml: 120, rule: 'last' as const } }],
    ['no sizes', { firstSizesMl: [] }],
    ['a negative size', { topUpSizesMl: [-30] }],
  ])('refuses %s', (_, rules) => {
    expect(() => plan(rules)).toThrow(PlainError);
  });

  it('refuses a time away that runs backwards, and no milk at all', () => {
    expect(() => planBottles(KINDS, FOURTEEN, { fromMs: AWAY.untilMs, untilMs: AWAY.fromMs })).toThrow(
      /within 24 hours/,
    );
    expect(() => plan({}, [])).toThrow(/does not give each of 3 feeds a bottle/);
  });
});
