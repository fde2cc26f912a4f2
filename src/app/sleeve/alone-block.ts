/**
 * The data that a sleeve stores to guide alone (hardware/firmware/alone_block.h): head, pace, calibration, checksum, in whole parts of
 * ALONE_PUT. Pure.
 */
import { crc16 } from '../../../firmware-bridge/wire/crc.ts';
import { BLOCK_BYTES, calibrationBlock } from '../../calibration/alone/block.ts';
import type { Calibration } from '../../sensing/index.ts';

/** Version of the layout; a sleeve refuses any other. */
export const ALONE_LAYOUT = 2;
export const PART_BYTES = 32;
/** Total length, with the padding of the last part. */
export const PLACE_BYTES = 224;
const HEAD_BYTES = 6;
const PROFILE_BYTES = 13;
const MAY = { pace: 1, burp: 2, sound: 4 } as const;

/** Rates in mL/min, volumes in mL. `mayPace`: "slower" cues are allowed for this baby; without this the sleeve refuses to guide alone. */
export interface AloneProfile {
  lasting: { rateMlPerMin: number; depthMl: number };
  pouring: { rateMlPerMin: number; depthMl: number };
  burpMl: number;
  burpMostMl: number;
  mayPace: boolean;
  mayBurp: boolean;
  maySound: boolean;
}

/**
 * @returns PLACE_BYTES bytes
 * @throws PlainError alone-calibration when a number does not fit the chip's integers
 */
export function aloneBlock(
  calibration: Calibration,
  profile: AloneProfile,
  { sleeveNumber, generation }: { sleeveNumber: number; generation: number },
): Uint8Array {
  const bytes = new Uint8Array(PLACE_BYTES).fill(0xff);
  const view = new DataView(bytes.buffer);
  bytes[0] = ALONE_LAYOUT;
  bytes[1] = generation & 0xff;
  view.setUint32(2, sleeveNumber, true);
  const { lasting, pouring, burpMl, burpMostMl } = profile;
  const figures = [lasting.rateMlPerMin, lasting.depthMl, pouring.rateMlPerMin, pouring.depthMl];
  [...figures, burpMl, burpMostMl].forEach((figure, i) => {
    view.setUint16(HEAD_BYTES + 2 * i, Math.round(figure * 64), true);
  });
  bytes[HEAD_BYTES + 12] =
    (profile.mayPace ? MAY.pace : 0) | (profile.mayBurp ? MAY.burp : 0) | (profile.maySound ? MAY.sound : 0);
  bytes.set(calibrationBlock(calibration), HEAD_BYTES + PROFILE_BYTES);
  const end = HEAD_BYTES + PROFILE_BYTES + BLOCK_BYTES;
  view.setUint16(end, crc16(bytes, 0, end), true);
  return bytes;
}
