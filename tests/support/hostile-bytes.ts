/** Bytes that a broken or malicious host may send, by seed. */
import { encodeMessage, encodeRequest, MESSAGES } from '../../firmware-bridge/wire/index.ts';
import { seededRandom } from './random.ts';
import { joined } from './wire.ts';

const numbersFrom = (seed: number): ((below: number) => number) => {
  const random = seededRandom(seed);
  return (below) => Math.floor(random() * below);
};

export function randomBytes(seed: number, count: number): Uint8Array {
  const draw = numbersFrom(seed);
  return Uint8Array.from({ length: count }, () => draw(256));
}

/** One of each kind of message that a sleeve understands, except one that stops the stream. */
export const WELL_FORMED: readonly Uint8Array[] = [
  encodeMessage(MESSAGES.SOUND, { frequencyHz: 440, onMs: 20, offMs: 20, repeats: 2 }),
  encodeMessage(MESSAGES.HEARTBEAT, { guidanceOn: 1 }),
  encodeMessage(MESSAGES.STREAM, { on: 1 }),
  encodeRequest(MESSAGES.IDENTITY),
  ...[
    [0xf9],
    [0xf0, 0x79, 0xf7],
    [0xf0, 0x6b, 0xf7],
    [0xf0, 0x69, 0xf7],
    [0xf0, 0x6d, 0x03, 0xf7],
    [0xf4, 0x03, 0x03],
    [0xe3, 0x40, 0x01],
    [0xf0, 0x6f, 0x05, 0x10, 0x01, 0xf7],
    [0x90, 0x28, 0x00],
    [0xd0, 0x01],
    [0xc0, 0x01],
    [0xf5, 0x06, 0x01],
    [0xf0, 0x71, 0x68, 0x00, 0x69, 0x00, 0xf7],
    [0xf0, 0x7a, 0x13, 0x00, 0xf7],
    [0xff],
  ].map((bytes) => Uint8Array.from(bytes)),
];

/** One of the well-formed messages with a byte changed, removed or inserted, or cut short. */
export function mutated(seed: number): Uint8Array {
  const draw = numbersFrom(seed);
  const bytes = [...WELL_FORMED[draw(WELL_FORMED.length)]!];
  const at = draw(bytes.length);
  const how = draw(4);
  if (how === 0) bytes[at] = draw(256);
  else if (how === 1) bytes.splice(at, 1);
  else if (how === 2) bytes.splice(at, 0, draw(256));
  else bytes.length = at;
  return Uint8Array.from(bytes);
}

/** `count` bytes of requests without a pause. */
export function flood(count: number): Uint8Array {
  const round = joined([
    [0xf0, 0x6b, 0xf7],
    [0xf0, 0x79, 0xf7],
    [0xf9],
    [0xf0, 0x69, 0xf7],
    encodeRequest(MESSAGES.IDENTITY),
  ]);
  return Uint8Array.from({ length: count }, (_, i) => round[i % round.length]!);
}
