/** The relay's pure steps: frames, order, whom to listen to, whose the sleeve is, what is kept. */
import { closeSync, openSync, readdirSync, truncateSync, writeFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { brokerAddress } from '../../../firmware-bridge/links/broker/broker-address.ts';
import { brokerError } from '../../../firmware-bridge/links/broker/broker-errors.ts';
import { type ByteLog, openByteLog } from '../../../firmware-bridge/links/broker/byte-log.ts';
import { type Claim, hearOther } from '../../../firmware-bridge/links/broker/claim.ts';
import {
  decodeGuideFrame,
  decodeSleeveFrame,
  encodeGuideFrame,
  encodeSleeveFrame,
  type GuideFrame,
  heardAgoMs,
  markMs,
  type SleeveFrame,
  sinceMark,
} from '../../../firmware-bridge/links/broker/frames.ts';
import { GuideSeeker } from '../../../firmware-bridge/links/broker/guide-seeker.ts';
import {
  darkAtMs,
  GUIDANCE_LIMIT_MS,
  isGuided,
  NO_GUIDE,
  takeWord,
} from '../../../firmware-bridge/links/broker/guide-watch.ts';
import { type Received, takeFrame } from '../../../firmware-bridge/links/broker/in-order.ts';
import { NOBODY, seeObeyed } from '../../../firmware-bridge/links/broker/obeyed.ts';
import { createPlayer } from '../../../firmware-bridge/links/broker/player.ts';
import { LEAP_BYTES } from '../../../firmware-bridge/links/broker/segments.ts';
import { checkedPlace, sleeveNumberIn, sleeveTopics } from '../../../firmware-bridge/links/broker/topics.ts';
import {
  ASK_AFTER_MS,
  ASK_EVERY_MS,
  decodeCheckpointWord,
  decodeWanted,
  encodeCheckpointWord,
  encodeWanted,
} from '../../../firmware-bridge/links/broker/wanted.ts';
import { encodeMessage, MESSAGES } from '../../../firmware-bridge/wire/index.ts';
import { temporaryFolder } from '../../support/temporary-folder.ts';
import { toHex } from '../../support/wire.ts';

const id = fc.bigInt({ min: 1n, max: 2n ** 64n - 1n }).map((n) => n.toString(16).padStart(16, '0'));
const u32 = fc.nat({ max: 0xffff_fffe });
const mark = fc.record({ id, ms: u32 });
const position = fc.maxSafeNat();
const bytes = fc.uint8Array({ maxLength: 40 });

const EMPTY: SleeveFrame = {
  stream: 'a',
  mark: { id: 'r', ms: 0 },
  ageMs: 0,
  guide: null,
  isThere: true,
  previous: 0,
  offset: 0,
  bytes: new Uint8Array(0),
};

describe('frames', () => {
  it('come back as they went', () => {
    const sleeve = fc
      .record({
        stream: id,
        mark,
        ageMs: fc.option(u32),
        guide: fc.option(mark),
        isThere: fc.boolean(),
        previous: position,
        offset: position,
        bytes,
      })
      .map((one): SleeveFrame => ({ ...one, previous: Math.min(one.previous, one.offset) }));
    fc.assert(
      fc.property(sleeve, (one) => {
        expect(decodeSleeveFrame(encodeSleeveFrame(one))).toEqual(one);
      }),
    );
    const guide = fc.record({
      mark,
      number: u32,
      epoch: u32,
      relay: fc.option(mark),
      wants: fc.option(fc.record({ stream: id, next: position })),
      isAsking: fc.boolean(),
      bytes,
    });
    fc.assert(
      fc.property(guide, (one) => {
        expect(decodeGuideFrame(encodeGuideFrame(one))).toEqual(one);
      }),
    );
  });

  it('of others are none, and break nothing', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 120 }), (noise) => {
        const sleeve = decodeSleeveFrame(noise);
        if (sleeve) expect(sleeve.previous).toBeLessThanOrEqual(sleeve.offset);
        const guide = decodeGuideFrame(noise);
        if (guide?.wants) expect(Number.isSafeInteger(guide.wants.next)).toBe(true);
      }),
    );
  });

  it('tell the time since a mark over its wrap', () => {
    expect(sinceMark(2 ** 32 + 400.9, markMs(2 ** 32 - 100))).toBe(500);
  });
});

describe('how old bytes are', () => {
  it('is told by the guide’s own clock: their age when they were sent, and the age of the word heard by then', () => {
    const frame = { ...EMPTY, ageMs: 300, guide: { id: 'one', ms: 5000 } };
    expect(heardAgoMs(frame, 'one', 5400)).toBe(700);
    expect(heardAgoMs({ ...frame, ageMs: null }, 'one', 5400)).toBe(Number.POSITIVE_INFINITY);
    expect(heardAgoMs(frame, 'two', 5400)).toBe(Number.POSITIVE_INFINITY);
    expect(heardAgoMs({ ...frame, guide: null }, 'one', 5400)).toBe(Number.POSITIVE_INFINITY);
  });
});

describe('order', () => {
  /** Frames of one stream, some lost, some twice, some from earlier on; a gap is answered by sending from there. */
  it('gives every byte once, whatever the way does', () => {
    fc.assert(
      fc.property(
        fc.uint8Array({ minLength: 1, maxLength: 200 }),
        fc.array(
          fc.record({ length: fc.integer({ min: 1, max: 30 }), fate: fc.integer({ min: 0, max: 5 }) }),
          {
            maxLength: 60,
          },
        ),
        (all, way) => {
          const frame = (offset: number, length: number): SleeveFrame => ({
            stream: 'a',
            mark: { id: 'r', ms: 0 },
            ageMs: 0,
            guide: null,
            isThere: true,
            previous: offset,
            offset,
            bytes: all.subarray(offset, offset + length),
          });
          let received: Received | null = takeFrame(null, frame(0, 0)).received;
          const got: number[] = [];
          let at = 0;
          const deliver = (one: SleeveFrame): void => {
            const step = takeFrame(received, one);
            received = step.received;
            got.push(...step.bytes);
            if (step.isGap) at = received.next;
          };
          for (const { length, fate } of way) {
            const one = frame(at, length);
            at = Math.min(all.length, at + length);
            if (fate === 0) continue;
            deliver(one);
            if (fate === 1) deliver(one);
            if (fate === 2) at = Math.max(0, at - 40);
          }
          deliver(frame(all.length, 0));
          while (received!.next < all.length) {
            const one = frame(at, 50);
            at = Math.min(all.length, at + 50);
            deliver(one);
          }
          expect(got).toEqual([...all]);
        },
      ),
    );
  });

  it('passes over what the log had lost, and counts it', () => {
    const one: SleeveFrame = {
      stream: 'a',
      mark: { id: 'r', ms: 0 },
      ageMs: 0,
      guide: null,
      isThere: true,
      previous: 80,
      offset: 200,
      bytes: Uint8Array.of(1, 2),
    };
    const { received, bytes: got, isGap } = takeFrame({ stream: 'a', next: 100, lost: 0 }, one);
    expect({ received, got: [...got], isGap }).toEqual({
      received: { stream: 'a', next: 202, lost: 100 },
      got: [1, 2],
      isGap: false,
    });
    expect(takeFrame({ stream: 'a', next: 79, lost: 0 }, one).isGap).toBe(true);
    // A frame of another log: counting begins there.
    expect(takeFrame({ stream: 'b', next: 9, lost: 0 }, one).received).toEqual({
      stream: 'a',
      next: 202,
      lost: 0,
    });
  });
});

describe('whom a relay listens to', () => {
  const word = (guide: string, number: number, relayMs: number | null, epoch = 0): GuideFrame => ({
    mark: { id: guide, ms: 0 },
    number,
    epoch,
    relay: relayMs === null ? null : { id: 'run', ms: relayMs },
    wants: null,
    isAsking: false,
    bytes: new Uint8Array(0),
  });

  it('a message counts by the age of the samples its guide had heard, not by when it came', () => {
    const first = takeWord(NO_GUIDE, word('one', 1, null), 1000, 'run');
    expect(first.verdict).toBe('late');
    const second = takeWord(first.watch, word('one', 2, 1100), 1500, 'run');
    expect(second.verdict).toBe('play');
    const guides = { ...second.watch, guides: true };
    expect(darkAtMs(guides)).toBe(1100 + GUIDANCE_LIMIT_MS);
    expect(isGuided(guides, 1100 + GUIDANCE_LIMIT_MS - 1)).toBe(true);
    expect(isGuided(guides, 1100 + GUIDANCE_LIMIT_MS)).toBe(false);
    // A message that waited in a queue for too long.
    expect(takeWord(guides, word('one', 3, 1200), 1200 + GUIDANCE_LIMIT_MS, 'run').verdict).toBe('late');
    // A message for an earlier process of the relay.
    expect(takeWord(guides, word('one', 3, 1200), 1250, 'another run').verdict).toBe('late');
  });

  it('nothing is played twice, and nobody takes over while the first still speaks', () => {
    const { watch } = takeWord(NO_GUIDE, word('one', 5, 990), 1000, 'run');
    expect(takeWord(watch, word('one', 5, 990), 1001, 'run').verdict).toBe('again');
    expect(takeWord(watch, word('one', 4, 990), 1001, 'run').verdict).toBe('again');
    expect(takeWord(watch, word('two', 1, 990), 1001, 'run')).toEqual({ watch, verdict: 'other' });
    const later = takeWord(watch, word('two', 1, 2790), 1000 + GUIDANCE_LIMIT_MS, 'run');
    expect(later.verdict).toBe('play');
    expect(later.watch).toMatchObject({ guide: { id: 'two' }, guides: false });
  });

  it('of those that were asked the latest is obeyed at once, and one that was replaced never again', () => {
    const { watch } = takeWord(NO_GUIDE, word('one', 1, 990, 3), 1000, 'run');
    const newer = takeWord(watch, word('two', 1, 1000, 4), 1001, 'run');
    expect(newer).toMatchObject({ verdict: 'play', watch: { guide: { id: 'two' }, epoch: 4 } });
    expect(takeWord(newer.watch, word('one', 2, 1001, 3), 1002, 'run').verdict).toBe('other');
    const longAfter = 1001 + 10 * GUIDANCE_LIMIT_MS;
    expect(takeWord(newer.watch, word('one', 3, longAfter, 3), longAfter, 'run').verdict).toBe('other');
    // At home no claim is made: when nobody guides, whoever comes is accepted, and the epoch stays.
    const atHome = takeWord(newer.watch, word('three', 1, longAfter), longAfter, 'run');
    expect(atHome).toMatchObject({ verdict: 'play', watch: { guide: { id: 'three' }, epoch: 4 } });
  });
});

describe('whom a relay obeys, as a guide sees it', () => {
  const other = (ms: number) => ({ id: 'b', ms });
  const seen = (guides: readonly ({ id: string; ms: number } | null)[], spokenForMs: number) =>
    guides.reduce((before, guide) => seeObeyed(before, guide, 'a', spokenForMs), NOBODY);

  it('is another one for good once that one goes on speaking a second after this one has spoken', () => {
    expect(seen([other(0), other(500)], 1200)).toMatchObject({ isHeard: false, isRefused: true });
    expect(seen([other(0), other(500)], 800).isRefused).toBe(false);
    expect(seen([other(0), other(500)], Number.NEGATIVE_INFINITY).isRefused).toBe(false);
  });

  it('is not yet known while one that has died is still named, or none is', () => {
    expect(seen([other(0), other(0), other(0)], 5000).isRefused).toBe(false);
    expect(seen([null, null], 5000)).toMatchObject({ isHeard: false, isRefused: false });
    expect(seen([{ id: 'c', ms: 1 }, other(2)], 5000).isRefused).toBe(false);
  });

  it('is this one once it was named', () => {
    expect(seen([other(0), other(500), { id: 'a', ms: 0 }], 1200)).toMatchObject({
      isHeard: true,
      isRefused: false,
    });
  });
});

describe('a relay that seeks a guide', () => {
  const seeker = (folder: string) => {
    const asked: ReturnType<typeof decodeWanted>[] = [];
    return { asked, seeker: new GuideSeeker(folder, (word) => asked.push(decodeWanted(word))) };
  };

  it('asks once nobody has been heard for a while, each time with a higher number', () => {
    const { asked, seeker: one } = seeker(temporaryFolder());
    one.begin(1000);
    one.beat(Number.NEGATIVE_INFINITY, 1000 + ASK_AFTER_MS - 1);
    expect(asked).toEqual([]);
    one.beat(Number.NEGATIVE_INFINITY, 1000 + ASK_AFTER_MS);
    one.beat(Number.NEGATIVE_INFINITY, 1000 + ASK_AFTER_MS + ASK_EVERY_MS - 1);
    one.beat(Number.NEGATIVE_INFINITY, 1000 + ASK_AFTER_MS + ASK_EVERY_MS);
    expect(asked.map((word) => word?.epoch)).toEqual([1, 2]);
    one.beat(9000, 9000 + ASK_AFTER_MS - 1);
    expect(asked).toHaveLength(2);
  });

  it('keeps the checkpoint of whom it listens to, and the number, over a restart', () => {
    const folder = temporaryFolder();
    const before = seeker(folder).seeker;
    const checkpoint = (guide: string, epoch: number, text: string) =>
      encodeCheckpointWord({ guide: guide.repeat(16), epoch, checkpoint: new TextEncoder().encode(text) });
    before.hearGuide(7);
    before.hearCheckpoint(checkpoint('a', 7, 'first'), 'a'.repeat(16));
    before.hearCheckpoint(checkpoint('b', 9, 'of another'), 'a'.repeat(16));
    before.hearCheckpoint(checkpoint('a', 6, 'of before'), 'a'.repeat(16));
    before.hearCheckpoint(new Uint8Array(3), 'a'.repeat(16));
    const { asked, seeker: after } = seeker(folder);
    expect(after.epoch).toBe(7);
    after.beat(0, 5000);
    expect(asked[0]!.epoch).toBe(8);
    expect(new TextDecoder().decode(asked[0]!.checkpoint)).toBe('first');
  });

  it('makes something of every checkpoint and of no noise', () => {
    fc.assert(
      fc.property(id, u32, bytes, (guide, epoch, checkpoint) => {
        expect(decodeCheckpointWord(encodeCheckpointWord({ guide, epoch, checkpoint }))).toEqual({
          guide,
          epoch,
          checkpoint,
        });
        expect(decodeWanted(encodeWanted({ epoch, checkpoint }))).toEqual({ epoch, checkpoint });
      }),
    );
    expect(decodeWanted(new Uint8Array([9, 0, 0, 0, 0]))).toBeNull();
  });
});

describe('whose a sleeve is', () => {
  const mine = { stream: 'm', run: 'mine' };
  const other = (says: 'asks' | 'here' | 'gone', stream: string) => ({ stream, run: 'other', says });
  it.each<[Claim, 'asks' | 'here' | 'gone', string, boolean, Claim, boolean]>([
    // A guide that holds the sleeve keeps it.
    ['held', 'asks', 'a', false, 'held', true],
    ['asking', 'here', 'z', false, 'given-way', false],
    // A retained message may be from a process that has ended.
    ['asking', 'here', 'a', true, 'asking', false],
    // Two ask at once: the one with the lower id gets it.
    ['asking', 'asks', 'a', false, 'given-way', false],
    ['asking', 'asks', 'z', false, 'asking', false],
    ['held', 'here', 'a', false, 'given-way', false],
    ['held', 'here', 'z', false, 'held', true],
    // Messages of an earlier process with the same id, among them its last will.
    ['held', 'here', 'm', false, 'held', false],
    ['held', 'gone', 'm', false, 'held', true],
    ['given-way', 'here', 'a', false, 'given-way', false],
  ])('%s, another %s (%s, retained %s): %s, says so %s', (claim, says, stream, retained, then, sayHere) => {
    expect(hearOther(claim, mine, other(says, stream), retained)).toEqual({ claim: then, sayHere });
  });

  it('stays with who has had it for long: a newcomer that was not told in time gives way', () => {
    const here = (stream: string, isNew: boolean) => ({ stream, run: stream, says: 'here' as const, isNew });
    const judged = (own: ReturnType<typeof here>, other: ReturnType<typeof here>) =>
      hearOther('held', own, other, false).claim;
    for (const [long, late] of [
      ['a', 'b'],
      ['b', 'a'],
    ] as const) {
      expect(judged(here(long, false), here(late, true))).toBe('held');
      expect(judged(here(late, true), here(long, false))).toBe('given-way');
    }
    expect([judged(here('a', true), here('b', true)), judged(here('b', true), here('a', true))]).toEqual([
      'held',
      'given-way',
    ]);
  });

  it('is never two relays’ at once after they heard each other, nor nobody’s', () => {
    const low = hearOther('held', { stream: 'a', run: '1' }, { stream: 'b', run: '2', says: 'here' }, false);
    const high = hearOther('held', { stream: 'b', run: '2' }, { stream: 'a', run: '1', says: 'here' }, false);
    expect([low.claim, high.claim]).toEqual(['held', 'given-way']);
  });
});

describe('what a guide said', () => {
  it('reaches the sleeve in whole messages, heartbeats apart, and the light comes back after the dark', () => {
    const written: string[] = [];
    const player = createPlayer((one) => written.push(toHex(one)));
    const on = encodeMessage(MESSAGES.HEARTBEAT, { guidanceOn: 1 });
    const off = encodeMessage(MESSAGES.HEARTBEAT, { guidanceOn: 0 });
    expect(player.play(Uint8Array.of(0xe3, 0x14))).toBeNull();
    expect(written).toEqual([]);
    player.beat(false);
    expect(player.play(Uint8Array.of(0x01, ...on))).toBe(true);
    expect(written).toEqual([toHex(off), 'e31401']);
    player.beat(true);
    player.beat(true);
    expect(written.slice(2)).toEqual([toHex(on), 'e31401', toHex(on)]);
    player.beat(false);
    player.play(Uint8Array.of(0xe3, 0x00, 0x00));
    player.beat(true);
    expect(written.slice(5)).toEqual([toHex(off), 'e30000', toHex(on), 'e30000']);
  });
});

describe('what is kept on the disk', () => {
  const newStream = (): string => '00000000000000aa';
  const numbers = (from: number, count: number): Uint8Array =>
    Uint8Array.from({ length: count }, (_, i) => (from + i) % 251);

  const readOf = (log: ByteLog, position: number, most: number) => {
    const { offset, bytes: got } = log.read(position, most)!;
    return { offset, bytes: Uint8Array.from(got) };
  };

  it('is read back by position, over files, memory and another process', () => {
    const folder = temporaryFolder();
    const first = openByteLog(folder, { newStream });
    // More bytes than are held in memory, and than one file of the log has.
    for (let at = 0; at < 3_000_000; at += 50_000) first.append(numbers(at, 50_000));
    expect(first.end).toBe(3_000_000);
    for (const at of [0, 1, 1_048_575, 1_100_000, 2_800_000, 2_999_999]) {
      const { offset, bytes: got } = first.read(at, 100)!;
      expect([offset, got[0]]).toEqual([at, at % 251]);
    }
    expect(first.read(3_000_000, 10)).toBeNull();
    first.close();
    const second = openByteLog(folder, { newStream: () => 'ffffffffffffffff' });
    expect(second.stream).toBe('00000000000000aa');
    expect(second.end).toBe(3_000_000 + LEAP_BYTES);
    second.append(numbers(7, 10));
    expect(readOf(second, 2_999_990, 100)).toEqual({ offset: 2_999_990, bytes: numbers(2_999_990, 10) });
    expect(second.read(3_000_000, 100)!.offset).toBe(3_000_000 + LEAP_BYTES);
    second.close();
  });

  it('is no more than eight hours need, and the oldest goes first', () => {
    const folder = temporaryFolder();
    const log = openByteLog(folder, { newStream, keepBytes: 2_500_000 });
    for (let at = 0; at < 8_000_000; at += 50_000) log.append(numbers(at, 50_000));
    const { offset } = log.read(0, 1)!;
    expect(log.end - offset).toBeGreaterThanOrEqual(2_500_000);
    expect(log.end - offset).toBeLessThan(2_500_000 + 2 * 1_100_000);
    log.close();
  });

  it('a full disk is reported; bytes it did not take are counted and sent from memory; later bytes are written again', () => {
    const folder = temporaryFolder();
    let room = 150;
    const full = (): never => {
      throw Object.assign(new Error('no space left on device'), { code: 'ENOSPC' });
    };
    const disk = {
      openSync: ((...args: Parameters<typeof openSync>) => openSync(...args)) as typeof openSync,
      writeSync: ((file: number, out: Uint8Array, at: number) => {
        const fits = Math.min(room, out.length - at);
        if (fits === 0) return full();
        room -= fits;
        return writeSync(file, out, at, fits);
      }) as unknown as typeof writeSync,
    };
    const log = openByteLog(folder, { newStream, disk });
    for (let at = 0; at < 500; at += 100) log.append(numbers(at, 100));
    expect(log.trouble).toMatch(/^The disk is full.*Make room on it\.$/);
    expect(log.unwritten).toBe(350);
    expect(readOf(log, 120, 1000)).toEqual({ offset: 120, bytes: numbers(120, 380) });
    room = 1000;
    log.append(numbers(500, 100));
    expect([log.trouble, log.unwritten]).toEqual([null, 350]);
    log.close();
    // Another process finds the stored bytes with the hole between them.
    const second = openByteLog(folder, { newStream });
    expect(readOf(second, 0, 1000)).toEqual({ offset: 0, bytes: numbers(0, 150) });
    expect(readOf(second, 150, 1000)).toEqual({ offset: 500, bytes: numbers(500, 100) });
    second.close();
    expect(readdirSync(folder).sort()).toEqual([
      '0000000000000000.bytes',
      '0000000000000500.bytes',
      'stream',
    ]);
  });

  it('a pulled plug may take the newest bytes; no position then stands for two', () => {
    const folder = temporaryFolder();
    const first = openByteLog(folder, { newStream });
    first.append(numbers(0, 1000));
    first.close();
    truncateSync(join(folder, '0000000000000000.bytes'), 600);
    const second = openByteLog(folder, { newStream });
    second.append(numbers(0, 5));
    expect(second.read(600, 10)!.offset).toBeGreaterThan(1000);
    second.close();
    closeSync(openSync(join(folder, 'stream'), 'w'));
    // Without its stream's name nobody can ask for these bytes, so a new log begins.
    const third = openByteLog(folder, { newStream: () => '00000000000000bb' });
    expect([third.stream, third.end]).toEqual(['00000000000000bb', 0]);
    third.close();
  });

  it('a folder that cannot be is refused', () => {
    const folder = temporaryFolder();
    writeFileSync(join(folder, 'file'), '');
    expect(() => openByteLog(join(folder, 'file'), { newStream })).toThrow(
      expect.objectContaining({ code: 'relay-folder' }),
    );
  });
});

describe('addresses and names', () => {
  it('takes TLS anywhere, and the open only on this computer or when that is said', () => {
    const at = (broker: string, more = {}) => brokerAddress({ broker, ...more }, {});
    expect(at('mqtts://broker.example')).toMatchObject({
      protocol: 'mqtts',
      host: 'broker.example',
      port: 8883,
    });
    expect(at('mqtt://localhost')).toMatchObject({ port: 1883 });
    expect(at('mqtt://[::1]:1900')).toMatchObject({ host: '::1', port: 1900 });
    expect(() => at('mqtt://127.0.0.1')).not.toThrow();
    for (const open of ['mqtt://192.168.1.5', 'mqtt://localhost.example', 'mqtt://127.0.0.1.example'])
      expect(() => at(open)).toThrow(/everybody on the network could read/);
    expect(() => at('mqtt://192.168.1.5', { brokerPlain: true })).not.toThrow();
    for (const wrong of ['broker.example', 'http://broker.example', '', 'mqtts://'])
      expect(() => at(wrong)).toThrow(/is not the address of a broker/);
    expect(() => at('mqtts://a:b@broker.example')).toThrow(/can be read by everybody/);
    expect(() => at('mqtts://broker.example', { brokerUser: 'a' })).toThrow(/there is no password/);
    expect(
      brokerAddress({ broker: 'mqtts://b', brokerUser: 'a' }, { EBBLINE_BROKER_PASSWORD: 'p' }),
    ).toMatchObject({
      user: 'a',
      password: 'p',
    });
    expect(() => at('mqtts://b', { brokerCa: '/nowhere/ca.pem' })).toThrow(/certificate cannot be read/);
  });

  it('lets no name out of its topic or its folder', () => {
    expect(sleeveTopics(checkedPlace({ site: 'Elm', room: 'Zimmer 3' }), 7).fromSleeve).toBe(
      'ebbline/1/Elm/Zimmer 3/7/from',
    );
    for (const site of ['', '..', '.', 'a/b', '#', '+', 'a#', '$SYS', 'a\u0000b', 'x'.repeat(41)])
      expect(() => checkedPlace({ site, room: 'r' })).toThrow(/cannot be the name of a site/);
    expect(sleeveNumberIn('ebbline/1/Elm/Blue/4711/relay')).toBe(4711);
  });

  it('says in a sentence what a broker or TLS says by a code', () => {
    const codeOf = (code: string | number): string =>
      brokerError('mqtts://b:8883', { code, message: 'm' }).code;
    // Reason codes: MQTT version 5.0, OASIS Standard, section 2.4. Others: Node.js and OpenSSL error codes.
    expect([134, 135, 142, 138].map(codeOf)).toEqual([
      'broker-password',
      'broker-not-allowed',
      'broker-twice',
      'broker-refuses',
    ]);
    expect(
      ['CERT_HAS_EXPIRED', 'SELF_SIGNED_CERT_IN_CHAIN', 'EPROTO', 'ERR_TLS_CERT_ALTNAME_INVALID'].map(codeOf),
    ).toEqual(Array(4).fill('broker-certificate'));
    expect(['ECONNREFUSED', 'ENOTFOUND', 'ECONNRESET'].map(codeOf)).toEqual(Array(3).fill('broker-away'));
  });
});
