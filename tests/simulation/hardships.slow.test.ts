import { sampleCorrelation, standardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { Baby } from '../../src/simulation/baby.ts';
import { laidOver } from '../../src/simulation/parameters.ts';
import { PLAIN } from '../../src/simulation/real-hand.ts';
import { parametersOf } from '../../src/simulation/scenarios.ts';
import { createSimulatedFeed } from '../../src/simulation/simulated-feed.ts';
import { HARDSHIPS, type Hardship, hardships } from '../support/hardships.ts';

const LASTS_SEC = 100;

function play(...names: Hardship[]) {
  const feed = createSimulatedFeed({
    scenario: 'paced',
    seed: 6,
    overrides: laidOver(PLAIN, hardships(...names)),
  });
  const cells: number[] = [];
  let accepted = 0;
  let pullN = 0;
  for (let i = 0; i < LASTS_SEC * 80; i++) {
    const { sample, truth } = feed.step();
    pullN = Math.max(pullN, truth.mouthForceZN);
    if (!sample) continue;
    accepted += 1;
    cells.push(sample.cells[0], sample.accelerometer[2], sample.timeMicros);
  }
  return { cells, accepted, pullN, truth: feed.truth };
}

const plain = play();

describe('feeds under hard conditions', () => {
  it.each(Object.keys(HARDSHIPS) as Hardship[])('"%s" changes what the sleeve sends', (name) => {
    const hard = play(name);
    const same =
      hard.cells.length === plain.cells.length && hard.cells.every((cell, i) => cell === plain.cells[i]);
    // A dead or stuck front cell leaves the axial one and the accelerometer alone.
    expect(same).toBe(name === 'dead cell' || name === 'stuck cell');
  });

  it('hides sucks from the balance while the milk flows as before', () => {
    const weak = play('weak sucks');
    expect(weak.truth.intakeMl).toBe(plain.truth.intakeMl);
    expect(weak.truth.suckTimes).toEqual(plain.truth.suckTimes);
    expect(weak.pullN).toBeLessThan(plain.pullN / 2);
  });

  it('gives no milk in dry bursts, and scatters it in irregular ones', () => {
    expect(play('dry bursts').truth.intakeMl).toBeLessThan(plain.truth.intakeMl * 0.9);
    const perSuck = (truth: typeof plain.truth): number[] =>
      truth.suckTimes.slice(1).map((sec, i) => {
        const ml = (at: number): number => truth.intakeSoFarMl[Math.round(at * 4)] ?? truth.intakeMl;
        return ml(sec) - ml(truth.suckTimes[i]!);
      });
    const spread = (truth: typeof plain.truth): number => {
      const volumes = perSuck(truth).filter((ml) => ml > 0.01);
      const mean = volumes.reduce((sum, ml) => sum + ml, 0) / volumes.length;
      return Math.sqrt(volumes.reduce((sum, ml) => sum + (ml - mean) ** 2, 0) / volumes.length) / mean;
    };
    expect(spread(play('irregular sucks').truth)).toBeGreaterThan(spread(plain.truth));
  });

  it('lets the place of the mouth’s force wander some millimetres, and forget it in seconds', () => {
    const parameters = parametersOf({
      scenario: 'paced',
      seed: 1,
      overrides: laidOver(PLAIN, HARDSHIPS['wandering mouth']),
    });
    const baby = new Baby(parameters, 4, 0.0125);
    const offered = { teatIn: true, headMm: 10, milkMl: 90, intakeMl: 0, feedSec: 0 };
    const across: number[] = [];
    const along: number[] = [];
    for (let i = 0; i < 80 * 1200; i++) {
      baby.step(offered);
      if (i % 80 !== 0) continue;
      across.push(baby.mouth.atXMm);
      along.push(baby.mouth.atZMm - parameters.bottle.teatTipZMm);
    }
    // 1200 s hold some 75 independent places: standard error of a standard deviation about 8 %.
    expect(Math.abs(standardDeviation(across) - 2)).toBeLessThan(0.5);
    expect(Math.abs(standardDeviation(along) - 3)).toBeLessThan(0.75);
    expect(sampleCorrelation(across.slice(8), across.slice(0, -8))).toBeGreaterThan(0.15);
    expect(sampleCorrelation(across.slice(8), across.slice(0, -8))).toBeLessThan(0.6);
  });

  it('sets the sleeve down: teat out, upright and still on the table, then offered again', () => {
    const feed = createSimulatedFeed({ scenario: 'tipped-up', seed: 2, overrides: HARDSHIPS['set down'] });
    const tilts: number[] = [];
    let downSec: number | null = null;
    let wasIn = false;
    while (!feed.done && feed.nextSec < 240) {
      const { truth } = feed.step();
      if (wasIn && !truth.onMouth) downSec ??= truth.atSec;
      wasIn = truth.onMouth;
      if (downSec !== null && truth.atSec > downSec + 4 && truth.atSec < downSec + 60)
        tilts.push(truth.tiltDeg);
      if (tilts.length > 0 && truth.onMouth) break;
    }
    expect(Math.max(...tilts)).toBe(0);
    const { events } = feed.truth;
    const down = events.findIndex(({ kind }) => kind === 'set-down');
    expect(events[down + 1]!.kind).toBe('latch');
    expect(events[down + 1]!.atSec - events[down]!.atSec).toBeCloseTo(1.5 + 60 + 1.6, 1);
    expect(events[down + 1]!.milkMl).toBe(events[down]!.milkMl);
  });

  it('lets a stuck cell say the same for as long, without a flag', () => {
    const feed = createSimulatedFeed({ scenario: 'paced', seed: 6, overrides: HARDSHIPS['stuck cell'] });
    const during = new Set<number>();
    const before = new Set<number>();
    let flags = 0;
    for (let i = 0; i < 100 * 80; i++) {
      const { sample, truth } = feed.step();
      (truth.atSec < 40 ? before : during).add(sample!.cells[1]);
      flags |= sample!.flags;
    }
    expect(before.size).toBeGreaterThan(1000);
    expect(during.size).toBe(1);
    expect(flags).toBe(0);
  });

  it('can be laid over each other', () => {
    const both = hardships('weak sucks', 'chewing', 'lossy line');
    expect(both).toMatchObject({
      baby: { suctionForceN: 0.15, chewForceN: 0.25 },
      chip: { lossChance: 0.01 },
    });
    expect(play('lossy line').accepted).toBeLessThan(plain.accepted);
  });
});
