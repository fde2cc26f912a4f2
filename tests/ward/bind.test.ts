/** Child, bottle and sleeve: what is bound, and what is stopped. There is no published rule for it; the cases are this house's own. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Random } from '../../src/base/random.ts';
import { type BindFacts, judgeBinding, STOPS, type StopCode } from '../../src/ward/binding/bind.ts';
import { newCode } from '../../src/ward/labels/code.ts';
import type { Label, LabelKind } from '../../src/ward/labels/label.ts';

const random = new Random(1, 'bind');
const code = () => newCode((below) => random.integer([0, below - 1]));
const NOW = 1_000_000;
const label = (kind: LabelKind, part: Partial<Label> = {}): Label => ({
  code: code(),
  kind,
  babyId: null,
  sleeve: null,
  madeAtMs: 0,
  voidAtMs: null,
  ...part,
});
const ana = label('child', { babyId: 'ana' });
const ben = label('child', { babyId: 'ben' });
const gone = label('child', { babyId: 'gone' });
const old = label('child', { babyId: 'ana', voidAtMs: 5 });
const goneVoid = label('child', { babyId: 'gone', voidAtMs: NOW });
const anas = label('bottle');
const bens = label('bottle');
const empty = label('bottle');
const stale = label('bottle');
const lost = label('bottle');
const sleeve = label('sleeve', { sleeve: 7 });
const taken = label('sleeve', { sleeve: 8 });
const busy = label('sleeve', { sleeve: 9 });
const all = [ana, ben, gone, old, goneVoid, anas, bens, empty, stale, lost, sleeve, taken, busy];
const filling = (bottle: Label, babyId: string, container: string, no: number) => ({
  no,
  bottle: bottle.code,
  babyId,
  container,
  atMs: 0,
  overAtMs: null,
});

const facts: BindFacts = {
  labelOf: (asked) => all.find((one) => one.code === asked) ?? null,
  stays: [
    { babyId: 'ana', cot: 'A1', fromMs: 0, untilMs: null },
    { babyId: 'ben', cot: 'A2', fromMs: 0, untilMs: null },
    { babyId: 'gone', cot: 'A3', fromMs: 0, untilMs: NOW },
  ],
  fillings: [
    filling(anas, 'ana', 'm1', 1),
    filling(bens, 'ben', 'm2', 2),
    filling(stale, 'ana', 'm3', 3),
    filling(lost, 'ana', 'm4', 4),
  ],
  bindings: [
    {
      no: 1,
      atMs: 0,
      babyId: 'x',
      bottle: 'x',
      sleeve: 8,
      container: 'x',
      by: null,
      feedId: null,
      overAtMs: null,
    },
  ],
  useByMs: (container) => ({ m1: NOW + 60_000, m2: NOW + 1, m3: NOW })[container] ?? null,
  isFeeding: (number) => number === 9,
  nowMs: NOW,
};
const judge = (...labels: Label[]) =>
  judgeBinding(
    labels.map((one) => one.code),
    facts,
  );

describe('binding for the next feed', () => {
  it('binds child, bottle and sleeve, whatever is scanned first', () => {
    const expected = {
      state: 'bind',
      bind: { babyId: 'ana', bottle: anas.code, sleeve: 7, container: 'm1', useByMs: NOW + 60_000 },
    };
    for (const order of [
      [ana, anas, sleeve],
      [sleeve, ana, anas],
      [anas, sleeve, ana],
      [ana, ana, anas, sleeve],
    ])
      expect(judge(...order)).toEqual(expected);
  });

  it('says what is missing while nothing is wrong', () => {
    expect(judge()).toEqual({ state: 'more', has: [], needs: ['child', 'bottle', 'sleeve'] });
    expect(judge(anas)).toEqual({ state: 'more', has: ['bottle'], needs: ['child', 'sleeve'] });
  });

  it.each<[StopCode, Label[]]>([
    ['wrong-child', [ana, bens]],
    ['wrong-child', [bens, ana]],
    ['wrong-child', [sleeve, bens, ana]],
    // This stop is shown even if there are others: waiting does not help against it.
    ['wrong-child', [ana, bens, busy]],
    ['wrong-child', [gone, anas]],
    ['child-left', [gone]],
    ['bottle-empty', [empty]],
    ['milk-past', [ana, stale]],
    ['milk-gone', [ana, lost]],
    ['sleeve-bound', [ana, anas, taken]],
    ['sleeve-feeding', [ana, anas, busy]],
    ['label-replaced', [old]],
    // Its label is void since it left, and no newer one was printed.
    ['child-left', [goneVoid]],
    ['label-twice', [ana, ben]],
  ])('stops: %s', (stop, labels) => {
    expect(judge(...labels)).toMatchObject({ state: 'stop', stop });
  });

  it('stops a bottle that is bound already', () => {
    const bound = { ...facts.bindings[0]!, bottle: anas.code, sleeve: 5 };
    const again = judgeBinding([ana.code, anas.code], { ...facts, bindings: [bound] });
    expect(again).toMatchObject({ state: 'stop', stop: 'bottle-bound' });
  });

  it.each(['', 'hello', '4006381333931', newCode((below) => below - 1)])(
    'stops at "%s", which is no label of the house',
    (text) => {
      expect(judgeBinding([ana.code, text], facts)).toEqual({ state: 'stop', stop: 'label-unknown', text });
    },
  );

  it('never binds another child’s bottle, however the labels come (1000 draws)', () => {
    const seen = new Set<string>();
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...all), { maxLength: 6 }), (labels) => {
        const verdict = judge(...labels);
        seen.add(verdict.state === 'stop' ? verdict.stop : verdict.state);
        if (verdict.state !== 'bind') return;
        const held = facts.fillings.find(({ bottle }) => bottle === verdict.bind.bottle)!;
        expect(held.babyId).toBe(verdict.bind.babyId);
        expect(verdict.bind.useByMs).toBeGreaterThan(NOW);
        expect(verdict.bind.sleeve).toBe(7);
      }),
      { numRuns: 1000, seed: 5 },
    );
    // The random labels reached every outcome: binding, asking for more, and nearly every stop.
    expect(seen).toContain('bind');
    for (const stop of STOPS)
      if (!['label-unknown', 'bottle-bound'].includes(stop)) expect(seen).toContain(stop);
  });
});
