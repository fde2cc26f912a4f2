/** Storing apart from guiding: in order for each feed, whatever the store answers, and nothing twice. */
import { describe, expect, it } from 'vitest';
import { decodeCheckpoint, encodeCheckpoint } from '../../../src/app/work/checkpoint.ts';
import { StoreFront } from '../../../src/app/work/storing/store-front.ts';
import type { FromStore, ToStore } from '../../../src/app/work/storing/store-ops.ts';
import { type QueuedStore, StoreQueue } from '../../../src/app/work/storing/store-queue.ts';
import { StreamPlaces } from '../../../src/app/work/stream-places.ts';
import { WaitingRoom } from '../../../src/app/work/waiting-room.ts';
import { PlainError } from '../../../src/base/errors.ts';
import { EMPTY_SETUP } from '../../support/fake-live.ts';
import { begunFeed, partOfSecond } from '../../support/store-samples.ts';
import { createVirtualClock } from '../../support/virtual-clock.ts';
import { SharedStore } from '../../support/ward/memory-store.ts';

const FEED = begunFeed('one');
const refusal = (code: string) => new PlainError(code, `It says ${code}.`, 'See to it.');

function scene(does: (what: string) => void = () => {}, isOver = false) {
  const done: string[] = [];
  const act = (what: string): void => {
    does(what);
    done.push(what);
  };
  const store: QueuedStore = {
    begin: ({ id }) => act(`begin ${id}`),
    append: (id) => act(`append ${id}`),
    finish: (id) => act(`finish ${id}`),
    discard: (id) => act(`discard ${id}`),
    correct: (id) => {
      act(`correct ${id}`);
      return {} as never;
    },
    isOver: () => isOver,
    isRecording: (id) => done.some((one) => one === `begin ${id}`),
    takeOver: ({ id }) => {
      act(`take over ${id}`);
      return false;
    },
  };
  const posted: ToStore[] = [];
  const told: string[] = [];
  const front = new StoreFront(
    (message) => posted.push(message),
    () => 0,
  );
  const answer = (message: FromStore): void => front.hear(message);
  const queue = new StoreQueue(store, {
    kept: (feedId, upTo) => answer({ kind: 'kept', feedId, upTo }),
    behind: (feedId) => answer({ kind: 'behind', feedId }),
    lost: (feedId) => answer({ kind: 'lost', feedId }),
    trouble: (trouble) => answer({ kind: 'trouble', trouble }),
    begun: ({ id }) => told.push(`begun ${id}`),
    over: (id) => told.push(`over ${id}`),
  });
  const work = (): void => {
    for (const message of posted.splice(0)) if (message.kind === 'keep') queue.add(message.ops);
    queue.drain();
  };
  return { done, told, front, queue, work, storage: front.storage(() => EMPTY_SETUP) };
}

describe('storing apart from guiding', () => {
  it('is done in order, and what waits for it is told once it is', () => {
    const { done, front, work, storage } = scene();
    let isKept = false;
    storage.begin(FEED, {});
    storage.append('one', partOfSecond(0));
    expect(
      front.onceKept('one', () => {
        isKept = true;
      }),
    ).toBe(true);
    expect(front.onceKept('one', () => {})).toBe(false);
    expect(isKept).toBe(false);
    work();
    expect(done).toEqual(['begin one', 'append one']);
    expect(isKept).toBe(true);
    expect(front.waiting).toBe(0);
  });

  it('is refused while the store takes nothing, with its own words, and goes on where it stood', () => {
    let isAway = true;
    const { done, front, work, storage } = scene(() => {
      if (isAway) throw refusal('store-away');
    });
    storage.begin(FEED, {});
    for (let i = 0; i < 3; i++) storage.append('one', partOfSecond(i));
    work();
    expect(front.trouble).toMatchObject({ code: 'store-away' });
    expect(() => storage.append('one', partOfSecond(3))).toThrow(/It says store-away/);
    isAway = false;
    work();
    expect(done).toEqual(['begin one', 'append one', 'append one', 'append one']);
    expect(front.trouble).toBeNull();
    expect(() => storage.append('one', partOfSecond(3))).not.toThrow();
  });

  it('of one feed may be refused for good: the others go on', () => {
    const { done, front, queue, work, storage } = scene((what) => {
      if (what === 'append one') throw refusal('store-overtaken');
    });
    storage.begin(FEED, {});
    storage.append('one', partOfSecond(0));
    storage.begin({ ...FEED, id: 'two' }, {});
    const lost: string[] = [];
    front.lost$.subscribe((feedId) => lost.push(feedId));
    let isKept = false;
    front.onceKept('one', () => {
      isKept = true;
    });
    work();
    expect(done).toEqual(['begin one', 'begin two']);
    // Whoever guides it is told, and nothing that was dropped counts as stored.
    expect([lost, isKept]).toEqual([['one'], false]);
    expect(queue.isEmpty).toBe(true);
    expect(front.waiting).toBe(0);
    expect(front.trouble).toBeNull();
  });

  it('of a feed that is over in the store is taken as stored, and nothing that belongs to its end is done again', () => {
    const { done, told, front, work, storage } = scene(() => {}, true);
    const behind: string[] = [];
    front.behind$.subscribe((feedId) => behind.push(feedId));
    front.takeOver(FEED, {}, { rows: 3, cues: 0, told: 0, events: 0, bytes: 10 });
    storage.append('one', partOfSecond(0));
    work();
    storage.finish('one', { endReason: 'button', endedAtMs: 1, refined: null });
    work();
    expect([done, told, behind, front.waiting]).toEqual([[], [], [], 0]);
  });

  it('of rows without their beginning ends no thread: the feed is to be taken over again', () => {
    const { done, front, work, storage } = scene();
    const lost: string[] = [];
    front.lost$.subscribe((feedId) => lost.push(feedId));
    storage.append('one', partOfSecond(0));
    work();
    expect([done, lost, front.waiting]).toEqual([[], ['one'], 0]);
  });

  it('of a feed that the store has less of than was handed over begins anew', () => {
    const { done, front, work } = scene();
    const behind: string[] = [];
    front.behind$.subscribe((feedId) => behind.push(feedId));
    front.takeOver(FEED, {}, { rows: 3, cues: 0, told: 0, events: 0, bytes: 10 });
    work();
    expect(behind).toEqual(['one']);
    front.takeOver(FEED, {}, { rows: 0, cues: 0, told: 0, events: 0, bytes: 0 });
    work();
    expect(done).toEqual(['take over one', 'take over one', 'begin one']);
  });

  it('is told anew to a thread that was started again', () => {
    const posted: ToStore[] = [];
    const front = new StoreFront(
      (message) => posted.push(message),
      () => 0,
    );
    front.storage(() => EMPTY_SETUP).begin(FEED, {});
    front.startAgain();
    expect(posted).toHaveLength(2);
    expect(posted[1]).toEqual(posted[0]);
  });
});

describe('a store thread that dies', () => {
  /** Each thread has its own connection to one store. */
  function threads() {
    const store = new SharedStore();
    let inbox: ToStore[] = [];
    const front = new StoreFront(
      (message) => inbox.push(message),
      () => 0,
    );
    const lost: string[] = [];
    front.lost$.subscribe((feedId) => lost.push(feedId));
    front.behind$.subscribe((feedId) => lost.push(feedId));
    const answers = (): ConstructorParameters<typeof StoreQueue>[1] => ({
      kept: (feedId, upTo) => front.hear({ kind: 'kept', feedId, upTo }),
      behind: (feedId) => front.hear({ kind: 'behind', feedId }),
      lost: (feedId) => front.hear({ kind: 'lost', feedId }),
      ...{ trouble: () => {}, begun: () => {}, over: () => {} },
    });
    let count = 0;
    let queue = new StoreQueue(store.connection('thread 0'), answers());
    return {
      ...{ store, front, lost, storage: front.storage(() => EMPTY_SETUP) },
      work() {
        for (const message of inbox.splice(0)) if (message.kind === 'keep') queue.add(message.ops);
        queue.drain();
      },
      die() {
        inbox = [];
        queue = new StoreQueue(store.connection(`thread ${++count}`), answers());
        front.startAgain();
      },
    };
  }
  const seconds = (feed: { rows: { atSec: number }[] }) => feed.rows.map(({ atSec }) => atSec);

  it('is followed by one that goes on with a feed where it was stored, and nobody’s guidance is disturbed', () => {
    const { store, front, lost, storage, work, die } = threads();
    storage.begin(FEED, {});
    for (let sec = 0; sec < 3; sec++) storage.append('one', partOfSecond(sec));
    work();
    die();
    work();
    storage.append('one', partOfSecond(3));
    work();
    expect(seconds(store.only)).toEqual([0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5]);
    expect(store.only.bytes.length).toBe(4 * 64);
    expect([lost, front.waiting, store.only.writer]).toEqual([[], 0, 'thread 1']);
  });

  it('takes nothing of a feed that had ended already, and nothing comes twice', () => {
    const { store, lost, storage, work, die } = threads();
    storage.begin(FEED, {});
    storage.append('one', partOfSecond(0));
    work();
    storage.append('one', partOfSecond(1));
    storage.finish('one', { endReason: 'button', endedAtMs: 1, refined: null });
    die();
    work();
    expect(seconds(store.only)).toEqual([0, 0.5, 1, 1.5]);
    expect([store.only.state, lost]).toEqual(['ended', []]);
  });

  it('leaves a feed to whoever guides it now', () => {
    const { store, front, storage, work, die } = threads();
    storage.begin(FEED, {});
    work();
    storage.append('one', partOfSecond(0));
    front.letGo('one');
    store.only.writer = 'other worker';
    die();
    work();
    expect([store.only.writer, front.waiting]).toEqual(['other worker', 0]);
  });
});

describe('places in a stream', () => {
  it('are known over a gap that the relay’s log has', () => {
    const places = new StreamPlaces();
    places.add({ stream: 'a', next: 100 }, 100);
    places.add({ stream: 'a', next: 150 }, 50);
    places.add({ stream: 'a', next: 1050 }, 50);
    expect(places.total).toBe(200);
    expect(places.placeOf(120)).toEqual({ stream: 'a', next: 120 });
    expect(places.placeOf(160)).toEqual({ stream: 'a', next: 1010 });
    expect(places.placeOf(200)).toEqual({ stream: 'a', next: 1050 });
    expect(places.placeOf(201)).toBeNull();
  });
});

describe('a checkpoint', () => {
  const binding = { calibration: {}, setup: EMPTY_SETUP, guided: {}, simulated: true } as never;
  it('comes back as it went, and noise is none', () => {
    const checkpoint = { binding, from: { stream: 'a', next: 7 }, feed: null };
    expect(decodeCheckpoint(encodeCheckpoint(checkpoint, '1'), '1')).toEqual(checkpoint);
    expect(decodeCheckpoint(new Uint8Array(0), '1')).toBeNull();
    expect(decodeCheckpoint(new Uint8Array([1, 2, 3]), '1')).toBeNull();
    expect(decodeCheckpoint(encodeCheckpoint(checkpoint, '1').subarray(0, 20), '1')).toBeNull();
  });
});

describe('sleeves that wait to be taken up', () => {
  it('come in a few at once, those in a feed first, and not those that have asked elsewhere', async () => {
    const clock = createVirtualClock();
    const taken: string[] = [];
    const done: (() => void)[] = [];
    const room = new WaitingRoom<{ key: string }>(
      ({ key }) => {
        taken.push(key);
        return new Promise((resolve) => done.push(resolve));
      },
      clock.scheduler,
      3000,
    );
    for (const key of ['a', 'b', 'c', 'd', 'e', 'f']) room.add({ key }, false);
    room.add({ key: 'in a feed' }, true);
    room.add({ key: 'f' }, false);
    expect(taken).toEqual(['a', 'b', 'c', 'd']);
    expect(room.length).toBe(3);
    done[0]!();
    await Promise.resolve();
    await Promise.resolve();
    await Promise.resolve();
    expect(taken.at(-1)).toBe('in a feed');
    await clock.advance(4000);
    done[1]!();
    await clock.advance(1);
    expect(taken).toHaveLength(5);
    expect(room.length).toBe(0);
  });
});
