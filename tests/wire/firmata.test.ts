/**
 * Source of every example: Firmata protocol 2.5, protocol.md of the protocol's repository. Its words, where quoted:
 * "The most significant bit must be set to 0 in each byte between the START_SYSEX and END_SYSEX which frame the message."
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  createFirmataFramer,
  createHostParser,
  encodeMessage,
  frameFirmata,
  MESSAGES,
  PIN_MODES,
  parseHostTraffic,
  sleeveAnswers,
} from '../../firmware-bridge/wire/index.ts';
import { fromHex, joined, sampleOf, toHex } from '../support/wire.ts';

const heard = (hex: string): unknown => parseHostTraffic(createHostParser(), fromHex(hex));

describe('what a host asks', () => {
  it.each([
    // "Request version report: 0 request version report (0xF9)"
    ['f9', { kind: 'version-query' }],
    // "system reset 0xFF"
    ['ff', { kind: 'system-reset' }],
    // "0 START_SYSEX (0xF0), 1 queryFirmware (0x79), 2 END_SYSEX (0xF7)"
    ['f079f7', { kind: 'firmware-query' }],
    ['f06bf7', { kind: 'capability-query' }],
    ['f069f7', { kind: 'analog-mapping-query' }],
    // "2 pin (0-127)"
    ['f06d05f7', { kind: 'pin-state-query', pin: 5 }],
    // "0 set digital pin mode (0xF4), 1 set pin number (0-127), 2 mode"
    ['f4030b', { kind: 'pin-mode', pin: 3, mode: PIN_MODES.pullup }],
    // "0 digital data, 0x90-0x9F, 1 digital pins 0-6 bitmask, 2 digital pin 7 bitmask"
    ['912a01', { kind: 'digital-port', port: 1, mask: 0xaa }],
    // "0 set digital pin value (0xF5), 1 set pin number, 2 value (LOW/HIGH, 0/1)"
    ['f50d01', { kind: 'digital-pin', pin: 13, high: true }],
    // "0 toggle analogIn reporting (0xC0-0xCF), 1 disable(0) / enable(non-zero)"
    ['c201', { kind: 'report-analog', channel: 2, on: true }],
    ['d100', { kind: 'report-digital', port: 1, on: false }],
    // "0 analog pin, 0xE0-0xEF, 1 least significant 7 bits, 2 most significant 7 bits"
    ['e37f01', { kind: 'analog', pin: 3, level: 255 }],
    // "0 START_SYSEX, 1 extended analog message (0x6F), 2 pin, 3 bits 0-6, 4 bits 7-13, … N END_SYSEX"
    ['f06f067f010001f7', { kind: 'analog', pin: 6, level: 255 + 2 ** 21 }],
    // "2 first char LSB, 3 first char MSB"
    ['f07148006900f7', { kind: 'text', text: 'Hi' }],
    // Of ours (sleeve contract, section 2): an empty body, bare or with its checksum.
    ['f002f7', { kind: 'identity-request' }],
    ['f0027f7f03f7', { kind: 'identity-request' }],
  ])('%s', (hex, message) => {
    expect(heard(hex)).toEqual([message]);
  });

  it('understands our own messages, and none with a wrong checksum', () => {
    const sound = { frequencyHz: 880, onMs: 100, offMs: 50, repeats: 2 };
    const bytes = joined([
      encodeMessage(MESSAGES.STREAM, { on: 0 }),
      encodeMessage(MESSAGES.SOUND, sound),
      encodeMessage(MESSAGES.HEARTBEAT, { guidanceOn: 1 }),
    ]);
    expect(parseHostTraffic(createHostParser(), bytes)).toEqual([
      { kind: 'stream', on: 0 },
      { kind: 'sound', ...sound },
      { kind: 'heartbeat', guidanceOn: 1 },
    ]);
    const broken = encodeMessage(MESSAGES.SOUND, sound);
    broken[4]! ^= 0x04;
    expect(parseHostTraffic(createHostParser(), broken)).toEqual([{ kind: 'unknown', bytes: broken }]);
  });
});

describe('what a sleeve answers', () => {
  it('has the bytes of the protocol', () => {
    // "0 version report header (0xF9), 1 major version, 2 minor version"
    expect(toHex(sleeveAnswers.protocolVersion(2, 5))).toBe('f90205');
    // "2 major version, 3 minor version, 4 first 7-bits of firmware name, 5 second 7-bits of firmware name"
    expect(toHex(sleeveAnswers.firmware('eb', 0, 1))).toBe('f0790001' + '6500' + '6200' + 'f7');
    // "A value of 0x7F is used as a separator to mark the end each pin's list of modes."
    expect(
      toHex(
        sleeveAnswers.capabilities([
          [],
          [
            { mode: PIN_MODES.output, bits: 1 },
            { mode: PIN_MODES.pwm, bits: 8 },
          ],
        ]),
      ),
    ).toBe('f06c' + '7f' + '01010308' + '7f' + 'f7');
    // "2 analog channel corresponding to pin 0, or 127 if pin 0 does not support analog"
    expect(toHex(sleeveAnswers.analogMapping([null, 0]))).toBe('f06a7f00f7');
    // "2 pin, 3 pin mode, 4 pin state, bits 0-6, 5 (optional) pin state, bits 7-13"
    expect(toHex(sleeveAnswers.pinState(3, PIN_MODES.pwm, 200))).toBe('f06e03034801f7');
    expect(toHex(sleeveAnswers.digitalPort(0, 0x90))).toBe('901001');
    expect(toHex(sleeveAnswers.analog(1, 1023))).toBe('e17f07');
    expect(toHex(sleeveAnswers.text('é'))).toBe('f071' + '4301' + '2901' + 'f7');
  });
});

describe('framing', () => {
  const frames = (chunks: Uint8Array[]): { messages: string[]; dropped: number; held: number } => {
    const framer = createFirmataFramer('sleeve-to-host');
    const messages: string[] = [];
    for (const chunk of chunks) frameFirmata(framer, chunk, (message) => messages.push(toHex(message)));
    return { messages, dropped: framer.dropped, held: framer.length };
  };
  const good = [
    sleeveAnswers.protocolVersion(2, 5),
    sleeveAnswers.firmware('ebbline-sleeve', 0, 1),
    sleeveAnswers.sample(sampleOf(3)),
    sleeveAnswers.digitalPort(0, 0x10),
    sleeveAnswers.pinState(3, 3, 200),
  ];

  it('gives whole messages at each split point', () => {
    const bytes = joined(good);
    for (let cut = 0; cut <= bytes.length; cut++) {
      expect(frames([bytes.subarray(0, cut), bytes.subarray(cut)])).toEqual({
        messages: good.map(toHex),
        dropped: 0,
        held: 0,
      });
    }
  });

  it('drops a message that another one cuts short, and stray bytes', () => {
    expect(frames([fromHex('33f07901' + 'f90205' + 'f7' + '90' + 'f06cf7')])).toEqual({
      messages: ['f90205', 'f06cf7'],
      dropped: 2,
      held: 0,
    });
  });

  it('drops a message without end and holds no more than its limit', () => {
    const endless = new Uint8Array(10_000).fill(0x20);
    endless[0] = 0xf0;
    expect(frames([endless, sleeveAnswers.protocolVersion(2, 5)])).toEqual({
      messages: ['f90205'],
      dropped: 1,
      held: 0,
    });
  });

  it('gives only well-formed messages, whatever comes', () => {
    fc.assert(
      fc.property(fc.array(fc.uint8Array({ maxLength: 60 }), { maxLength: 10 }), (chunks) => {
        for (const direction of ['host-to-sleeve', 'sleeve-to-host'] as const) {
          frameFirmata(createFirmataFramer(direction), joined(chunks), (message) => {
            expect(message[0]).toBeGreaterThan(0x7f);
            const inside = message[0] === 0xf0 ? message.subarray(1, -1) : message.subarray(1);
            expect(inside.every((byte) => byte < 0x80)).toBe(true);
            if (message[0] === 0xf0) expect(message.at(-1)).toBe(0xf7);
          });
        }
        const parser = createHostParser();
        for (const chunk of chunks) parseHostTraffic(parser, chunk);
      }),
      { seed: 21, numRuns: 300 },
    );
  });
});
