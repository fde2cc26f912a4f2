/** Bytes on the serial line while the sleeve streams. Pure. */
import { frameLength, MESSAGES } from '../../firmware-bridge/wire/index.ts';
import { ELECTRICAL } from '../pins.ts';

export const SAMPLES_PER_SEC = ELECTRICAL.converterClockHz / ELECTRICAL.converterDivider;
/** Start bit, eight bits, stop bit. */
const BITS_PER_BYTE = 10;

export interface LineUse {
  readonly what: string;
  readonly bytes: number;
  readonly bytesPerSec: number;
}

/** What one sample costs, with and without its motion. */
export function lineUse(): LineUse[] {
  const row = (what: string, bytes: number): LineUse => ({
    what,
    bytes,
    bytesPerSec: bytes * SAMPLES_PER_SEC,
  });
  const sample = frameLength(MESSAGES.SAMPLE);
  const motion = frameLength(MESSAGES.MOTION);
  return [row('SAMPLE', sample), row('MOTION', motion), row('both', sample + motion)];
}

/** What the line can carry; the chip's own 117,647 baud do not count, the radio bridge may keep to 115,200. */
export const lineBytesPerSec = ELECTRICAL.baud / BITS_PER_BYTE;

/** How long a message of so many bytes is under way, ms. */
export const onLineMs = (bytes: number): number => (bytes / lineBytesPerSec) * 1000;

/** The radio: a Bluetooth BR/EDR module with Serial Port Profile, power class 2. Requirements of ours, but for the rate over the air. */
export const RADIO = {
  /** DH1 both ways: 172.8 kbit/s (Bluetooth Core Specification, baseband; from memory). */
  oneSlotBytesPerSec: 172_800 / 8,
  worstDelayMs: 300,
  bufferBytes: 2048,
  rangeM: 5,
} as const;
