/** The calibration over a link, as with a real sleeve: every byte by the contract, the person's hands played by the bench, in virtual time. */
import { beforeAll, describe, expect, it } from 'vitest';
import { EmulatedSleeve } from '../../firmware-bridge/links/emulated-sleeve.ts';
import { createSimulatedLink, type SleeveModel } from '../../firmware-bridge/links/simulated-link.ts';
import { type Talk, walkThrough } from '../../src/app/calibration/guided-walk.ts';
import { type HoldSource, linkHolds } from '../../src/app/calibration/hold-source.ts';
import { outcomeOf } from '../../src/calibration/walk/outcome.ts';
import type { PlanOptions } from '../../src/calibration/walk/plan.ts';
import { stepsOf } from '../../src/calibration/walk/walk-so-far.ts';
import { nextStep, takeHold, type WalkState } from '../../src/calibration/walk/walk-state.ts';
import { BenchHands, createBenchSleeve } from '../support/bench-sleeve.ts';
import { begun, benchFor } from '../support/calibration-walk.ts';
import { RUN_STARTS_MS } from '../support/live-run.ts';
import { seededRandom } from '../support/random.ts';
import { createVirtualClock, type VirtualClock } from '../support/virtual-clock.ts';

const PLAN: PlanOptions = { placements: 4, stacks: ['A'], bottle: 'two-minutes' };

/** Advances virtual time until `promise` resolves. */
async function awaited<T>(clock: VirtualClock, promise: Promise<T>, atMostSec = 20): Promise<T> {
  let settled = false;
  const done = promise.finally(() => {
    settled = true;
  });
  done.catch(() => {});
  for (let i = 0; i < atMostSec * 20 && !settled; i++) await clock.advance(50);
  return done;
}

async function connected(model: SleeveModel, hands: BenchHands) {
  const clock = createVirtualClock();
  const link = createSimulatedLink(model, { label: 'bench' }, clock.scheduler);
  hands.hold([0, 0, 1], {});
  const source = await awaited(
    clock,
    linkHolds(link, { scheduler: clock.scheduler, wallNowMs: () => RUN_STARTS_MS + clock.nowMs }),
  );
  return { clock, link, source };
}

describe('a whole walk over a link', () => {
  const hands = new BenchHands(benchFor(31));
  const sleeve = createBenchSleeve(hands);
  let walk: WalkState;
  let source: HoldSource;
  const said: string[] = [];

  beforeAll(async () => {
    const made = await connected(sleeve, hands);
    source = made.source;
    walk = { ...begun(31, PLAN), simulated: false, startedAt: new Date(RUN_STARTS_MS).toISOString() };
    const talk: Talk = {
      say: (text) => said.push(text),
      // The person has done the step before answering.
      ask: async () => {
        hands.obey(nextStep(walk)!, walk);
        return '';
      },
    };
    const keep = (next: WalkState): void => {
      walk = next;
    };
    await awaited(made.clock, walkThrough({ walk, source, talk, keep }), 600);
  });

  it('asks the sleeve for its number and switches its stream on', () => {
    expect(source.sleeveNumber).toBe(4711);
    expect(sleeve.heard.map(({ kind }) => kind)).toContain('stream');
  });

  it('takes every step without a fault, each at its own time', () => {
    expect(said.filter((text) => text.startsWith('!'))).toEqual([]);
    expect(Object.keys(walk.holds)).toHaveLength(stepsOf(walk).length);
    const times = stepsOf(walk).map(({ id }) => walk.holds[id]!.atSec);
    expect(times).toEqual([...times].sort((a, b) => a - b));
    expect(walk.holds[stepsOf(walk)[0]!.id]!.samples).toBeGreaterThan(230);
  });

  it('gives the calibration of the sleeve on the bench', () => {
    const { calibration, bottle } = outcomeOf(walk, {
      finishedAt: '2026-01-05T09:40:00Z',
      softwareVersion: '1.2.3',
      uniform01: seededRandom(1),
    });
    const { bench } = hands;
    const counts = bench.countsOf([3, 2, 0.3]);
    const [fx, fz, moment] = calibration.loadPerCount.map((row) =>
      row.reduce((sum, entry, i) => sum + entry * (counts[i]! - bench.zeroCounts[i]!), 0),
    );
    expect(Math.abs(fx! / 3 - 1)).toBeLessThan(0.01);
    expect(Math.abs(fz! / 2 - 1)).toBeLessThan(0.01);
    expect(Math.abs(moment! / 0.3 - 1)).toBeLessThan(0.01);
    expect(Math.abs(bottle.emptyMassGrams - bench.bottle.emptyMassGrams)).toBeLessThan(1);
  });
});

describe('trouble on the line', () => {
  it('is said at a step, and the step can be taken again', async () => {
    const hands = new BenchHands(benchFor(31));
    const { clock, link, source } = await connected(createBenchSleeve(hands), hands);
    const walk = begun(31, PLAN);
    const step = nextStep(walk)!;
    link.unplug();
    await expect(awaited(clock, source.take(step, walk))).rejects.toMatchObject({
      code: 'hold-no-samples',
    });
    link.replug();
    expect(takeHold(walk, step, await awaited(clock, source.take(step, walk))).faults).toEqual([]);
  });

  it('does not mend a hold over a gap: the seconds are gathered anew', async () => {
    const hands = new BenchHands(benchFor(31));
    const { clock, link, source } = await connected(createBenchSleeve(hands), hands);
    const walk = begun(31, PLAN);
    const taking = source.take(nextStep(walk)!, walk);
    await clock.advance(2500);
    link.unplug();
    await clock.advance(500);
    link.replug();
    await clock.advance(2900);
    let there = false;
    void taking.then(() => {
      there = true;
    });
    await clock.advance(50);
    expect(there).toBe(false);
    expect((await awaited(clock, taking)).samples).toBeGreaterThan(230);
  });

  it('says that no sleeve answers', async () => {
    const hands = new BenchHands(benchFor(31));
    const sleeve = createBenchSleeve(hands);
    sleeve.answers = false;
    sleeve.advance = () => new Uint8Array(0);
    await expect(connected(sleeve, hands)).rejects.toMatchObject({ code: 'sleeve-silent' });
  });
});

describe('the sleeve’s own program on the emulated chip', () => {
  it('gives the holds of the bench: six poses of the empty sleeve, then a mass', async () => {
    const hands = new BenchHands(benchFor(32));
    const { clock, source } = await connected(
      new EmulatedSleeve({ surroundings: hands, sleeveNumber: 99 }),
      hands,
    );
    expect(source.sleeveNumber).toBe(99);
    let walk: WalkState = { ...begun(32, PLAN), startedAt: new Date(RUN_STARTS_MS).toISOString() };
    const wanted = stepsOf(walk).filter(({ id }) => id.startsWith('empty-') || id.startsWith('mass-1-'));
    for (const step of wanted.slice(0, 7)) {
      hands.obey(step, walk);
      const hold = await awaited(clock, source.take(step, walk));
      const taken = takeHold(walk, step, hold);
      expect(taken.faults).toEqual([]);
      expect(hold.flagged).toEqual([0, 0, 0, 0]);
      walk = taken.walk;
      hands.restingDps.forEach((dps, axis) => {
        expect(Math.abs(hold.gyroscope![axis]! / 65.5 - dps)).toBeLessThan(0.02);
      });
      // What the bench measured, as it came through converters, chip and line.
      const felt = Array.from({ length: 240 }, (_, i) => hands.sample(i).cells);
      for (const i of [0, 1, 2] as const) {
        const mean = felt.reduce((sum, cells) => sum + cells[i], 0) / felt.length;
        expect(Math.abs(hold.cells[i] - mean)).toBeLessThan((3 * hold.cellSd[i]) / Math.sqrt(60) + 30);
      }
    }
  });
});
