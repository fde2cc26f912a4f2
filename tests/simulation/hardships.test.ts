import { describe, expect, it } from 'vitest';
import { HARDSHIPS, type Hardship, hardships } from '../../src/simulation/hardships.ts';
import { createSimulatedFeed } from '../../src/simulation/simulated-feed.ts';

const LASTS_SEC = 60;

function play(...names: Hardship[]) {
  const feed = createSimulatedFeed({ scenario: 'paced', seed: 6, overrides: hardships(...names) });
  const cells: number[] = [];
  let accepted = 0;
  let pullN = 0;
  for (let i = 0; i < LASTS_SEC * 80; i++) {
    const { sample, truth } = feed.step();
    pullN = Math.max(pullN, truth.mouthForceZN);
    if (!sample) continue;
    accepted += 1;
    cells.push(sample.cells[0], sample.timeMicros);
  }
  return { cells, accepted, pullN, truth: feed.truth };
}

const plain = play();

describe('hardships', () => {
  it.each(Object.keys(HARDSHIPS) as Hardship[])('"%s" changes what the sleeve sends', (name) => {
    const hard = play(name);
    const same =
      hard.cells.length === plain.cells.length && hard.cells.every((cell, i) => cell === plain.cells[i]);
    // A dead front cell leaves the axial one alone.
    expect(same).toBe(name === 'dead cell');
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

  it('can be laid over each other', () => {
    const both = hardships('weak sucks', 'chewing', 'lossy line');
    expect(both).toMatchObject({
      baby: { suctionForceN: 0.15, chewForceN: 0.25 },
      chip: { lossChance: 0.01 },
    });
    expect(play('lossy line').accepted).toBeLessThan(plain.accepted);
  });
});
