/** An emulated sleeve that guides alone: calibration and orders written to its EEPROM, and its behavior in a feed. */

import { EmulatedSleeve, type EmulatedSleeveOptions } from '../../firmware-bridge/links/emulated-sleeve.ts';
import { surroundingsOf } from '../../firmware-bridge/links/emulated-surroundings.ts';
import { crc16 } from '../../firmware-bridge/wire/crc.ts';
import { encodeMessage, MESSAGES } from '../../firmware-bridge/wire/index.ts';
import { type AloneProfile, aloneBlock } from '../../src/app/sleeve/alone-block.ts';
import { BLOCK_BYTES } from '../../src/calibration/alone/block.ts';
import type { Calibration, SensorSample } from '../../src/sensing/index.ts';

export const OWNER = 0x12345678;
export const PACED: AloneProfile = {
  lasting: { rateMlPerMin: 8, depthMl: 18 },
  pouring: { rateMlPerMin: 14, depthMl: 6 },
  burpMl: 15,
  burpMostMl: 30,
  mayPace: true,
  mayBurp: true,
  maySound: false,
};

/** EEPROM address of the owner: two places used in turn, each a key and its checksum. */
export const ownerAt = (place: number): number => 1004 + 6 * place;

export function keepOwner(memory: Uint8Array, key: number, place = 0): void {
  const view = new DataView(memory.buffer);
  view.setUint32(ownerAt(place), key, true);
  view.setUint16(ownerAt(place) + 4, crc16(memory, ownerAt(place), ownerAt(place) + 4), true);
}

/** Writes to the EEPROM, before the chip starts, what an owner would have sent. */
export function keepInChip(memory: Uint8Array, block: Uint8Array, place = 0): void {
  keepOwner(memory, OWNER);
  memory[12] = 0xa5;
  memory.set(block, 16 + 224 * place);
}

/** @returns the checksum of a block as stored: behind layout, pace and calibration */
export const blockChecksum = (block: Uint8Array): number =>
  new DataView(block.buffer, block.byteOffset).getUint16(19 + BLOCK_BYTES, true);

export interface AloneRun extends Partial<EmulatedSleeveOptions> {
  calibration: Calibration;
  profile?: AloneProfile;
  sleeveNumber?: number;
}

/** @returns a sleeve that feels a capture's samples, with block and order in its EEPROM */
export function aloneSleeve(samples: readonly SensorSample[], options: AloneRun): EmulatedSleeve {
  const { calibration, profile = PACED, sleeveNumber = 1, ...others } = options;
  let at = 0;
  const feed = {
    get nextSec() {
      return at < samples.length ? samples[at]!.atSec : Number.POSITIVE_INFINITY;
    },
    step() {
      const { cells, accelerometer } = samples[at++]!;
      const [x, y, z] = accelerometer;
      return {
        sample: {
          cells: [...cells] as [number, number, number],
          accelerometer: [x, y, z] as [number, number, number],
        },
      };
    },
  };
  const sleeve = new EmulatedSleeve({ surroundings: surroundingsOf(feed), sleeveNumber, ...others });
  keepInChip(sleeve.chip.eeprom.memory, aloneBlock(calibration, profile, { sleeveNumber, generation: 1 }));
  sleeve.reset('power');
  return sleeve;
}

export const order = (kind: number, owner = OWNER): Uint8Array =>
  encodeMessage(MESSAGES.ALONE_ORDER, { owner, order: kind });
