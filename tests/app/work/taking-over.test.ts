/** A feed that changes its worker is kept as at home and shows nothing old, however old the last checkpoint is and whoever else reads along. */
import { describe, expect, it, vi } from 'vitest';
import { PlainError } from '../../../src/base/errors.ts';
import { keptTold } from '../../support/memory-storage.ts';
import { endAsAtHome, sameAtHome } from '../../support/ward/as-at-home.ts';
import { MemoryBroker } from '../../support/ward/memory-broker.ts';
import { type SmallWorker, smallWard } from '../../support/ward/small-ward.ts';

const { current } = vi.hoisted(() => ({ current: { broker: null as unknown } }));
vi.mock('mqtt', () => ({
  default: { connect: (options: never) => (current.broker as MemoryBroker).connect(options) },
}));

const atHome = await sameAtHome();
/** When the simulated baby's first cue is shown at home, seconds of the sleeve's bytes. */
const CUE_SEC = atHome.showing.find(({ showing }) => showing === 'tilt-down')!.atSec;
const AWAY = new PlainError('store-away', 'The database is away.', 'Start it.');

function scene() {
  const broker = new MemoryBroker();
  current.broker = broker;
  return { broker, ...smallWard(broker) };
}
type Scene = ReturnType<typeof scene>;

const endsAsAtHome = (ward: Scene): Promise<void> => endAsAtHome(ward, atHome);
const statesOf = ({ states }: Scene, { id }: SmallWorker, fromSec: number) =>
  states().filter((one) => one.worker === id && one.atSec >= fromSec);

describe('a feed in the ward', () => {
  it('is as at home where nobody fails', async () => {
    const ward = scene();
    ward.startWorker('one');
    await endsAsAtHome(ward);
    expect(keptTold(atHome.feed).length).toBeGreaterThan(0);
    expect(ward.shown.beats.map(({ on }) => on)).toEqual([false, true, false]);
  });
});

describe('a feed that is taken over', () => {
  it.each([
    ['before a cue, which is shown once', CUE_SEC - 1],
    ['as soon as a cue was told', CUE_SEC + 1.2],
    ['long after it', CUE_SEC + 9],
  ])('%s', async (_, killedSec) => {
    const ward = scene();
    const one = ward.startWorker('one');
    await ward.until(killedSec);
    one.kill();
    const two = ward.startWorker('two');
    await endsAsAtHome(ward);
    expect(two.worker.takenInFeed).toBe(1);
    // What it shows goes on at once.
    expect(statesOf(ward, two, 0)[0]!.showing).not.toBe('no-guidance');
  });

  it('goes on from a checkpoint of half a minute ago, since the store had been away', async () => {
    const ward = scene();
    const one = ward.startWorker('one');
    await ward.until(25);
    ward.store.trouble = AWAY;
    await ward.until(55);
    one.kill();
    const two = ward.startWorker('two');
    await ward.until(58);
    // Guided already: the store is still away.
    expect([...two.worker.sleeves.values()].map(({ view }) => view?.feedState)).toEqual(['open']);
    ward.store.trouble = null;
    await endsAsAtHome(ward);
  });

  it('is kept whole beside a worker that was asked too, and comes when another guides', async () => {
    const ward = scene();
    const one = ward.startWorker('one');
    await ward.until(38);
    const late = ward.startWorker('late');
    ward.broker.hold(late.isOf);
    one.kill();
    await ward.until(41);
    const two = ward.startWorker('two');
    await ward.until(46);
    expect(two.worker.sleeves.size).toBe(1);
    ward.broker.release(late.isOf);
    // It leaves soon: a worker takes only a few sleeves at a time.
    await ward.until(49);
    expect(late.worker.sleeves.size).toBe(0);
    await endsAsAtHome(ward);
    expect([late.worker.taken, two.worker.taken]).toEqual([0, 1]);
    expect(statesOf(ward, late, 41)).toEqual([]);
  });

  it('is kept whole when its worker is replaced while it still reads', async () => {
    const ward = scene();
    const one = ward.startWorker('one');
    await ward.until(25);
    ward.store.trouble = AWAY;
    await ward.until(50);
    ward.store.trouble = null;
    one.kill();
    const slow = ward.startWorker('slow');
    // A few messages come through: it has begun with the feed, and falls silent.
    ward.broker.hold((client) => slow.isOf(client) && client.clientId.includes('guide'), 4);
    await ward.until(54);
    expect([...slow.worker.sleeves.values()].map(({ feedId, view }) => [feedId, view])).toEqual([
      [ward.store.only.summary.id, null],
    ]);
    expect(ward.store.only.writer).toBe('slow');
    const two = ward.startWorker('two');
    await ward.until(58);
    expect(two.worker.sleeves.size).toBe(1);
    ward.broker.release(slow.isOf);
    await endsAsAtHome(ward);
    expect([slow.worker.taken, slow.worker.sleeves.size, two.worker.taken]).toEqual([0, 0, 1]);
    expect(statesOf(ward, slow, 50)).toEqual([]);
  });

  it('begins anew when the store has less of it than it had once, as from a backup', async () => {
    const ward = scene();
    const one = ward.startWorker('one');
    await ward.until(45);
    one.kill();
    const kept = ward.store.only;
    kept.rows.length = 10;
    kept.bytes = kept.bytes.subarray(0, 40_000);
    const two = ward.startWorker('two');
    await endsAsAtHome(ward);
    expect(two.worker.taken).toBe(1);
  });

  it('is taken over again by its own worker when another one has written it', async () => {
    const ward = scene();
    ward.startWorker('one');
    await ward.until(40);
    ward.store.only.writer = 'other';
    await endsAsAtHome(ward);
    expect(ward.store.only.writer).toBe('one');
  });
});
