/** What must not disturb a feed in the ward: clocks that differ, another relay with its number, noise on every topic, a damaged checkpoint. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { serialize } from 'node:v8';
import { describe, expect, it, vi } from 'vitest';
import { sleeveTopics } from '../../../firmware-bridge/links/broker/topics.ts';
import { encodeCheckpointWord, encodeWanted } from '../../../firmware-bridge/links/broker/wanted.ts';
import { encodeCheckpoint, packFeedAt } from '../../../src/app/work/checkpoint.ts';
import { SOFTWARE_VERSION } from '../../../src/base/version.ts';
import { encodeStop } from '../../../src/ward/board/stop-message.ts';
import { seededRandom } from '../../support/random.ts';
import { countedId, IDENTITY, PLACE } from '../../support/relayed.ts';
import { endAsAtHome, sameAtHome } from '../../support/ward/as-at-home.ts';
import { MemoryBroker } from '../../support/ward/memory-broker.ts';
import { bytes, STEP_MS, smallWard } from '../../support/ward/small-ward.ts';

const { current } = vi.hoisted(() => ({ current: { broker: null as unknown } }));
vi.mock('mqtt', () => ({
  default: { connect: (options: never) => (current.broker as MemoryBroker).connect(options) },
}));

const atHome = await sameAtHome();
const MINUTES_MS = 7 * 60_000;
const RED = '255,0,0';
const topics = sleeveTopics(PLACE, IDENTITY.sleeveNumber);

function scene(options: Parameters<typeof smallWard>[1] = {}) {
  const broker = new MemoryBroker();
  current.broker = broker;
  return { broker, ...smallWard(broker, options) };
}

/** Somebody else on the broker. */
async function stranger({ broker, clock }: ReturnType<typeof scene>) {
  const client = broker.connect({ clientId: 'stranger', port: 1 });
  // A whole step: the last bytes of a feed are those of the step in which it ends.
  await clock.advance(STEP_MS);
  return (topic: string, payload: Uint8Array) => client.publish(topic, payload, { retain: false }, () => {});
}

describe('a feed in the ward', () => {
  it.each([MINUTES_MS, -MINUTES_MS])(
    'is as at home where clocks are minutes apart, at the relay and at the next worker (%i ms)',
    async (aheadMs) => {
      const ward = scene({ relayAheadMs: aheadMs });
      const one = ward.startWorker('one');
      await ward.until(40);
      const { startedAtMs } = ward.store.only.summary;
      one.kill();
      ward.startWorker('two', { wallAheadMs: -aheadMs });
      await endAsAtHome(ward, atHome);
      const { summary } = ward.store.only;
      // By one clock: a feed lasts as long as it lasted.
      const lastedSec = (summary.endedAtMs! - startedAtMs) / 1000;
      expect(summary.startedAtMs).toBe(startedAtMs);
      expect(lastedSec).toBeGreaterThan(60);
      expect(lastedSec).toBeLessThan(80);
    },
  );

  it('is as at home beside another relay with a sleeve of its number, which stays dark and says why', async () => {
    const ward = scene();
    ward.startWorker('one');
    await ward.until(15);
    const other = ward.otherRelay();
    for (let sec = 15; sec < 60; sec++) {
      other.port.send(bytes.subarray(sec * 1000, sec * 1000 + 1000));
      await ward.until(sec);
    }
    await endAsAtHome(ward, atHome);
    expect(other.said.at(-1)).toMatch(
      /Another relay already passes on a sleeve of the number 4711 .*another number/,
    );
    expect(other.beats.some(({ on }) => on)).toBe(false);
    expect(other.lights).toEqual([]);
  });

  it('is as at home, and lit all the while, where now and then a message with bytes is lost', async () => {
    const ward = scene();
    let count = 0;
    // One each 1.5 s, since a guide asks again once a second. A feed ends with the message in which it ends: that one is not lost.
    ward.broker.loses = ({ clientId }, topic) =>
      clientId.startsWith('ebbline-guide') &&
      topic === topics.fromSleeve &&
      ward.sentSec() < 70 &&
      count++ % 15 === 14;
    ward.startWorker('one');
    await endAsAtHome(ward, atHome);
    expect(count).toBeGreaterThan(500);
    expect(ward.shown.beats.map(({ on }) => on)).toEqual([false, true, false]);
  });

  it('is as at home under noise on every topic', async () => {
    const ward = scene();
    const { worker } = ward.startWorker('one');
    const random = seededRandom(5);
    const publish = await stranger(ward);
    const noise = (length: number) => Uint8Array.from({ length }, () => Math.floor(random() * 256));
    const guide = countedId();
    for (let sec = 10; sec < 70; sec += 3) {
      await ward.until(sec);
      for (const topic of Object.values(topics))
        for (const length of [0, 1, 60, 500]) publish(topic, noise(length));
      publish(topics.wanted, encodeWanted({ epoch: 1, checkpoint: noise(40) }));
      publish(topics.checkpoint, encodeCheckpointWord({ guide, epoch: 2 ** 31, checkpoint: noise(40) }));
      publish('ebbline/1/elm house/blue/none/wanted', encodeWanted({ epoch: 1, checkpoint: noise(0) }));
      publish('ebbline/1/elm house/blue/-3.5/stop', noise(5));
    }
    expect(worker.sleeves.size).toBe(1);
    await endAsAtHome(ward, atHome);
  });

  it('stays stopped under noise, until the board takes it back', async () => {
    const ward = scene();
    ward.startWorker('one');
    const publish = await stranger(ward);
    await ward.until(12);
    publish(topics.stop, encodeStop(60));
    await ward.until(14);
    // It blinks once a second, and heartbeats send its color again.
    const isRed = () =>
      ward.shown.lights.some(({ atMs, color }) => atMs > ward.clock.nowMs - 1500 && color === RED);
    expect(isRed()).toBe(true);
    publish(topics.stop, new TextEncoder().encode('{"version":1}'));
    await ward.until(18);
    expect(isRed()).toBe(true);
    // A kept message is taken back with an empty one (MQTT version 5.0, section 3.3.1.3).
    publish(topics.stop, new Uint8Array(0));
    await ward.until(20);
    expect(isRed()).toBe(false);
  });
});

describe('a checkpoint that its relay’s disk has damaged, or another version has left', () => {
  const NOTHING_BOUND = { binding: undefined as never, from: null, feed: null };
  const of = { noted: [], told: [], shown: null };
  const start = packFeedAt({ picture: { summary: {} } as never, from: { stream: 'a'.repeat(16), next: 0 } });
  const OTHER_SHAPE = { binding: {} as never, from: null, feed: { start, latest: null, ...of } };
  const flipped = (seed: number) => (note: Uint8Array) => {
    const random = seededRandom(seed);
    const bit = Math.floor(random() * note.length * 8);
    note[bit >> 3]! ^= 1 << (bit & 7);
    return note;
  };
  it.each<[string, (note: Uint8Array) => Uint8Array]>([
    ['in one bit, seed 1', flipped(1)],
    ['in one bit, seed 2', flipped(2)],
    ['by half', (note) => note.subarray(0, note.length / 2)],
    ['to a form of its own', () => serialize({ version: 2, from: null, feed: null })],
    ['to nothing that is bound', () => encodeCheckpoint(NOTHING_BOUND, SOFTWARE_VERSION)],
    ['to a feed of another shape', () => encodeCheckpoint(OTHER_SHAPE, SOFTWARE_VERSION)],
  ])('%s is none: the feed goes on from the bytes that the relay has stored', async (_, damaged) => {
    const ward = scene();
    const one = ward.startWorker('one');
    await ward.until(45);
    one.kill();
    await ward.restartRelay((folder) => {
      const note = join(folder, 'note');
      writeFileSync(note, damaged(readFileSync(note)));
    });
    const two = ward.startWorker('two');
    await endAsAtHome(ward, atHome);
    expect(two.said.join(' ')).toMatch(/its feed since .* goes on, from the bytes that its relay has stored/);
  });
});
