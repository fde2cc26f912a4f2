/** A fault of the program in one sleeve's feed ends the guidance of that sleeve alone, and is not handed from worker to worker as their end. */
import { describe, expect, it, vi } from 'vitest';
import { endAsAtHome, sameAtHome } from '../../support/ward/as-at-home.ts';
import { MemoryBroker } from '../../support/ward/memory-broker.ts';
import { smallWard } from '../../support/ward/small-ward.ts';

const { current, fault } = vi.hoisted(() => ({
  current: { broker: null as unknown },
  fault: { isThere: false },
}));
vi.mock('mqtt', () => ({
  default: { connect: (options: never) => (current.broker as MemoryBroker).connect(options) },
}));
vi.mock('../../../src/feed/engine.ts', async (original) => {
  const real = await original<typeof import('../../../src/feed/engine.ts')>();
  return {
    ...real,
    runEngine: (...given: Parameters<typeof real.runEngine>) => {
      if (fault.isThere) throw new TypeError('what no test has found');
      return real.runEngine(...given);
    },
  };
});

const atHome = await sameAtHome();
/** When the simulated baby's only cue is shown at home, seconds of the sleeve's bytes. */
const CUE_SEC = atHome.showing.find(({ showing }) => showing === 'tilt-down')!.atSec;
/** How long a sleeve is left alone, and time for its relay to ask again. */
const AGAIN_SEC = 34;

function scene() {
  const broker = new MemoryBroker();
  current.broker = broker;
  return { broker, ...smallWard(broker) };
}

// An error that nobody catches makes vitest fail, as it ends the built program.
describe('a fault of the program in a feed', () => {
  it('darkens its sleeve, is said with its place, and the feed is kept as at home once it is gone', async () => {
    const ward = scene();
    const { worker, said } = ward.startWorker('one');
    await ward.until(CUE_SEC + 5);
    expect(worker.sleeves.size).toBe(1);
    fault.isThere = true;
    await ward.until(CUE_SEC + 7);
    fault.isThere = false;
    expect(worker.sleeves.size).toBe(0);
    expect(ward.shown.beats.at(-1)!.on).toBe(false);
    expect(ward.states().at(-1)).toMatchObject({
      showing: 'no-guidance',
      trouble: { code: 'sleeve-fault', text: expect.stringMatching(/fault with what this sleeve sends/) },
    });
    expect(said.join('\n')).toMatch(/Report this fault: TypeError: what no test has found\n.*program-fault/s);
    await ward.until(CUE_SEC + 5 + AGAIN_SEC);
    expect(worker.sleeves.size).toBe(1);
    await endAsAtHome(ward, atHome);
  });

  it('that comes with its bytes again ends no worker that tries, and each tries it seldom', async () => {
    const ward = scene();
    const workers = [ward.startWorker('one'), ward.startWorker('two')];
    await ward.until(25);
    fault.isThere = true;
    await ward.until(60);
    fault.isThere = false;
    const faults = workers.map(
      ({ said }) => said.filter((text) => text.startsWith('Report this fault')).length,
    );
    expect(Math.min(...faults)).toBeGreaterThanOrEqual(1);
    expect(Math.max(...faults)).toBeLessThanOrEqual(2);
  });
});
