/** The sleeve guides by itself, on the emulated chip: what it shows, what it refuses, and how guidance changes hands. */
import { describe, expect, it } from 'vitest';
import { keptHex, type Look } from '../../firmware-bridge/links/emulated-sleeve.ts';
import { crc16 } from '../../firmware-bridge/wire/crc.ts';
import {
  createFirmataFramer,
  decodeMessage,
  encodeMessage,
  encodeRequest,
  frameFirmata,
  MESSAGES,
} from '../../firmware-bridge/wire/index.ts';
import { aloneBlock, PART_BYTES, PLACE_BYTES } from '../../src/app/sleeve/alone-block.ts';
import { aloneHost } from '../support/alone-host.ts';
import {
  aloneSleeve,
  blockChecksum,
  keepInChip,
  keepOwner,
  OWNER,
  order,
  ownerAt,
  PACED,
} from '../support/alone-sleeve.ts';
import { readFixture, samplesOf } from '../support/captures.ts';
import { EmulatedBench } from '../support/emulated.ts';

const poured = readFixture('poured');
const samples = samplesOf(poured.bytes);
const { calibration } = poured;
const isCue = ({ light }: Look): boolean => light.red > 200 && light.blue < 60;
const heartbeat = (on: number) => encodeMessage(MESSAGES.HEARTBEAT, { guidanceOn: on });

/** A sleeve on a bench whose messages are heard; nothing in its EEPROM yet. */
function bench(sleeveNumber = 7) {
  const emulated = new EmulatedBench({ sleeveNumber });
  emulated.run(0.2);
  const framer = createFirmataFramer('sleeve-to-host');
  const states: NonNullable<ReturnType<typeof decodeState>>[] = [];
  const parts: number[][] = [];
  const listen = (sec: number): void => {
    for (let i = 0; i < sec / 0.005; i++)
      frameFirmata(framer, emulated.sleeve.advance(emulated.atSec + 0.005), (message) => {
        const state = decodeState(message);
        if (state) states.push(state);
        const part = decodeMessage(MESSAGES.ALONE_PART, message);
        if (part) parts.push(part.bytes);
      });
  };
  const ask = (message: Uint8Array, sec = 0.3) => {
    emulated.send(message);
    listen(sec);
    return states.at(-1)!;
  };
  return { emulated, ask, parts, memory: emulated.sleeve.chip.eeprom.memory };
}
const decodeState = (message: Uint8Array) => decodeMessage(MESSAGES.ALONE_STATE, message);
const IS = { ready: 1, on: 2, owned: 4, busy: 8, alone: 16 };

const partsOf = (block: Uint8Array) =>
  Array.from({ length: PLACE_BYTES / PART_BYTES }, (_, part) =>
    encodeMessage(MESSAGES.ALONE_PUT, {
      owner: OWNER,
      part,
      bytes: [...block.subarray(part * PART_BYTES, (part + 1) * PART_BYTES)] as never,
    }),
  );
const blockFor = (sleeveNumber: number, generation = 1, mayPace = true) =>
  aloneBlock(calibration, { ...PACED, mayPace }, { sleeveNumber, generation });

describe('what an owner sends', () => {
  it('is kept, turned on, told of and read back, byte for byte', () => {
    const { ask, parts, memory } = bench();
    expect(ask(encodeRequest(MESSAGES.ALONE_STATE))).toMatchObject({ layout: 2, flags: 0, checksum: 0 });
    expect(ask(order(2)).flags & IS.owned).toBeTruthy();
    const block = blockFor(7);
    for (const part of partsOf(block)) expect(ask(part).refused).toBe(0);
    const kept = ask(encodeRequest(MESSAGES.ALONE_STATE));
    expect(kept).toMatchObject({ refused: 0, generation: 1, checksum: blockChecksum(block) });
    expect(kept.flags & IS.on).toBe(0);
    ask(order(1));
    expect(ask(encodeRequest(MESSAGES.ALONE_STATE)).flags & (IS.ready | IS.on)).toBe(IS.ready | IS.on);
    for (let part = 0; part < 7; part++)
      ask(encodeMessage(MESSAGES.ALONE_GET, { owner: OWNER, what: 0, part }));
    expect(parts.flat()).toEqual([...block]);
    expect(ask(order(0)).flags & IS.on).toBe(0);
    expect(memory[12]).not.toBe(0xa5);
  });

  it('is refused from anybody else, until the button is held down', () => {
    const { emulated, ask, parts } = bench();
    ask(order(2));
    expect(ask(order(1, 99)).refused).toBe(1);
    expect(ask(order(2, 99)).refused).toBe(1);
    ask(encodeMessage(MESSAGES.ALONE_GET, { owner: 99, what: 1, part: 0 }));
    expect(parts).toEqual([]);
    emulated.buttonDown = true;
    emulated.run(0.1);
    expect(ask(order(2, 99)).refused).toBe(0);
    expect(ask(order(1)).refused).toBe(1);
  });

  it.each([
    ['damaged', () => blockFor(7).map((byte, i) => (i === 60 ? byte ^ 4 : byte)), 4],
    ['for another sleeve', () => blockFor(8), 3],
    ['for a baby that is not to be paced', () => blockFor(7, 1, false), 6],
  ] as const)('is refused when it is %s; the last good one stays, and the light says so', (_, made, why) => {
    const { emulated, ask } = bench();
    ask(order(2));
    const good = blockFor(7);
    for (const part of partsOf(good)) ask(part);
    const bad = made();
    for (const part of partsOf(bad)) ask(part);
    const state = ask(encodeRequest(MESSAGES.ALONE_STATE));
    expect(state).toMatchObject({ refused: why, checksum: blockChecksum(good) });
    let red = 0;
    emulated.send(partsOf(bad)[3]!);
    for (let i = 0; i < 60; i++) {
      emulated.run(0.05);
      const { light } = { light: emulated.sleeve.light() };
      if (light.red === 70 && light.green === 0) red++;
    }
    expect(red).toBeGreaterThan(20);
  });

  it('is refused when it is of another layout, as an older or newer host would send it', () => {
    const { ask } = bench();
    ask(order(2));
    const good = blockFor(7);
    for (const part of partsOf(good)) ask(part);
    for (const layout of [1, 3]) {
      const other = blockFor(7, 2);
      other[0] = layout;
      new DataView(other.buffer).setUint16(215, crc16(other, 0, 215), true);
      for (const part of partsOf(other)) ask(part);
      const state = ask(encodeRequest(MESSAGES.ALONE_STATE));
      expect(state).toMatchObject({ layout: 2, refused: 2, generation: 1, checksum: blockChecksum(good) });
    }
  });

  it('is refused when two hosts send at once: parts of the two are never put together', () => {
    const { ask } = bench();
    ask(order(2));
    const good = blockFor(7);
    for (const part of partsOf(good)) ask(part);
    const [one, other] = [partsOf(blockFor(7, 2)), partsOf(blockFor(7, 3))];
    let refused = 0;
    one.forEach((part, i) => {
      if (ask(part).refused === 5) refused++;
      if (ask(other[i]!).refused === 5) refused++;
    });
    expect(refused).toBeGreaterThan(5);
    const state = ask(encodeRequest(MESSAGES.ALONE_STATE));
    expect([blockChecksum(good), blockChecksum(blockFor(7, 3))]).toContain(state.checksum);
    expect(state.checksum).toBe(blockChecksum(good));
  });

  it.each([0, 1])(
    'has the owner before, in place %i, where the new key was half written when the power went',
    (place) => {
      const next = new Uint8Array(1024);
      keepOwner(next, 99, place ^ 1);
      for (let bytes = 0; bytes <= 6; bytes++) {
        const { emulated, ask, memory } = bench();
        keepOwner(memory, OWNER, place);
        const at = ownerAt(place ^ 1);
        memory.set(next.subarray(at, at + bytes), at);
        emulated.sleeve.reset('power');
        emulated.run(0.3);
        // After a cut write one of the two places holds a whole owner; only with all 6 bytes in place 0 is it the new one.
        const isNew = bytes === 6 && place === 0;
        expect([bytes, ask(order(0)).refused]).toEqual([bytes, isNew ? 1 : 0]);
        expect([bytes, ask(order(0, 99)).refused]).toEqual([bytes, isNew ? 0 : 1]);
      }
    },
  );

  it('changes hands for good with the button held down: the key before is wiped', () => {
    const { emulated, ask, memory } = bench();
    ask(order(2));
    emulated.buttonDown = true;
    emulated.run(0.1);
    ask(order(2, 99));
    emulated.buttonDown = false;
    emulated.sleeve.reset('power');
    emulated.run(0.3);
    expect([ask(order(0)).refused, ask(order(0, 99)).refused]).toEqual([1, 0]);
    const keys = [0, 1].map((at) => new DataView(memory.buffer).getUint32(ownerAt(at), true));
    expect(keys.sort()).toEqual([0xffffffff, 99].sort());
  });

  it('survives power that goes while it is being written: the last good one counts', () => {
    const { emulated, ask } = bench();
    ask(order(2));
    const good = blockFor(7);
    for (const part of partsOf(good)) ask(part);
    for (const part of partsOf(blockFor(7, 2)).slice(0, 5)) ask(part, 0.05);
    emulated.sleeve.reset('power');
    expect(ask(encodeRequest(MESSAGES.ALONE_STATE))).toMatchObject({
      generation: 1,
      checksum: blockChecksum(good),
    });
  });
});

describe('alone', () => {
  it('tells "too fast" by its light when its program does on a computer, without a sound, and keeps the feed', () => {
    const looks: Look[] = [];
    const sleeve = aloneSleeve(samples, { calibration, onLook: (look) => looks.push(structuredClone(look)) });
    sleeve.advance(0.05);
    const { data } = sleeve.chip.parts.cpu;
    const [paintFrom, MARK] = [0x100 + 1350, 0xa5];
    data.fill(MARK, paintFrom, (data[0x5d]! | (data[0x5e]! << 8)) - 64);
    sleeve.chip.longestAwakeSec = 0;
    sleeve.advance(85);
    // Variables and the deepest stack of 2 kB: less than 1.7 kB.
    const stackFrom = data.findIndex((byte, at) => at >= paintFrom && byte !== MARK);
    expect(0x900 - stackFrom + 1350).toBeLessThan(1700);
    const first = looks.find(isCue)!;
    // Compared with the same program on this computer; alone-estimate compares it with the ideal over all captures.
    const host = aloneHost()!;
    const said = host.run('fixed', poured.bytes, calibration).find(({ cue }) => cue === 'tilt-down')!;
    host.close();
    expect(Math.abs(first.atSec - said.atSec)).toBeLessThan(2);
    expect(sleeve.tones).toEqual([]);
    // A whole turn of the chip, sending and interrupts included; at 16 MHz.
    expect(sleeve.chip.longestAwakeSec).toBeLessThan(0.006);
    const feed = sleeve.chip.eeprom.memory.subarray(464, 464 + 54);
    expect([feed[0], feed[6]]).toEqual([0, 1]);
    expect(feed[8]! / 4).toBeGreaterThan(10);
    expect(feed[9]).toBe(0xff);
  });

  it('never thinks for long, at the slower clock: a whole turn with reading, sending and interrupts stays far under half a period', () => {
    const sleeve = aloneSleeve(samples, {
      calibration,
      hex: keptHex('sleeve-one-crystal'),
      clockHz: 11_059_200,
    });
    sleeve.advance(1);
    sleeve.chip.longestAwakeSec = 0;
    sleeve.advance(24);
    // A third of a step takes at most 3.7 ms of that; a reading comes each 12.5 ms.
    expect(sleeve.chip.longestAwakeSec).toBeLessThan(0.0056);
    expect(sleeve.chip.longestAwakeSec).toBeGreaterThan(0.003);
  });

  it('says nothing of its own while a host guides, and takes over a cue that stands', () => {
    const looks: Look[] = [];
    const sleeve = aloneSleeve(samples, { calibration, onLook: (look) => looks.push(structuredClone(look)) });
    for (let sec = 0.5; sec < 50; sec += 0.5) {
      sleeve.advance(sec);
      sleeve.receive(heartbeat(1));
    }
    expect(looks.filter(({ atSec }) => atSec > 1).some(isCue)).toBe(false);
    sleeve.advance(56);
    // The last heartbeat came at 49.5 s, and the sleeve guides by itself 2 s later.
    const taken = looks.find(isCue)!;
    expect(taken.atSec).toBeGreaterThan(51.4);
    expect(taken.atSec).toBeLessThan(53.2);
    // Heartbeats of a host that shows nothing yet do not turn the light off.
    const isOn = (from: number) => looks.filter(({ atSec }) => atSec >= from).some(isCue);
    for (let sec = 56; sec < 58; sec += 0.5) {
      sleeve.receive(heartbeat(1));
      sleeve.advance(sec + 0.5);
    }
    expect(isOn(56.2)).toBe(true);
    for (let sec = 58; sec < 66; sec += 0.5) {
      sleeve.receive(heartbeat(1));
      sleeve.advance(sec + 0.5);
    }
    expect(isOn(63.5)).toBe(false);
  });

  it.each([
    [3650, true],
    [3720, false],
    [2000, false],
  ])(
    'with %i mV of the cell: its own light where there is no cue says whether the battery ends within half an hour',
    (millivolts, ends) => {
      const looks: Look[] = [];
      const sleeve = aloneSleeve(samples, {
        calibration,
        onLook: (look) => looks.push(structuredClone(look)),
      });
      sleeve.setCell(millivolts);
      sleeve.advance(16);
      const isBattery = ({ light }: Look): boolean =>
        light.blue === 16 && light.red === 0 && light.green === 0;
      expect(looks.some(isBattery)).toBe(ends);
      if (!ends) return;
      // The sign is on for three seconds and off for one.
      const lit = looks
        .filter((look, i) => isBattery(look) && !isBattery(looks[i - 1]!))
        .map(({ atSec }) => atSec);
      expect(lit.length).toBeGreaterThan(1);
      for (const [i, sec] of lit.slice(2).entries()) expect(sec - lit[i + 1]!).toBeCloseTo(4, 0);
      // While a host guides, the sleeve shows no battery sign of its own.
      const guidedFrom = looks.length;
      for (let sec = 16; sec < 22; sec += 0.5) {
        sleeve.receive(heartbeat(1));
        sleeve.advance(sec + 0.5);
      }
      expect(looks.slice(guidedFrom + 1).some(isBattery)).toBe(false);
    },
  );

  it('stays off until it is turned on', () => {
    const looks: Look[] = [];
    const sleeve = aloneSleeve(samples, { calibration, onLook: (look) => looks.push(structuredClone(look)) });
    keepInChip(sleeve.chip.eeprom.memory, blockFor(1));
    sleeve.chip.eeprom.memory[12] = 0xff;
    sleeve.reset('power');
    sleeve.advance(60);
    expect(looks.some(isCue)).toBe(false);
    expect(sleeve.chip.eeprom.memory[464]).toBe(0xff);
  });
});
