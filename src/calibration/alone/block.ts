/**
 * The calibration data that a sleeve needs to guide on its own, as the chip's integers: loads, felt force and the milk's moments of one
 * calibration (hardware/firmware/alone_estimate.h). Pure.
 */
import { PlainError } from '../../base/errors.ts';
import { MILK_DENSITY_GRAMS_PER_ML, STANDARD_GRAVITY_MPS2 } from '../../base/units.ts';
import type { Calibration } from '../../sensing/index.ts';
import { fitMoments } from './moments.ts';

/** Lever of the balance, m: a gram at arm 1 reads 1. */
const LEVER_M = 0.1;
const BLOCK_SAMPLES = 4;
const COUNTS_PER_G = 8192;

/** Length of the block, bytes. */
export const BLOCK_BYTES = 12 + 36 + 18 + 6 + 8 + 4 + 2 * 2 * 4 * 7;

const gramsPerNewton = 1000 / STANDARD_GRAVITY_MPS2;

/**
 * @returns the block, BLOCK_BYTES bytes
 * @throws PlainError alone-calibration when a number does not fit the chip's integers
 */
export function calibrationBlock(calibration: Calibration): Uint8Array {
  const { bottle, loadPerCount, zeroCounts } = calibration;
  const [fx, fz, moment] = loadPerCount;
  const tipM = bottle.teatTipZMm / 1000;
  const out = new Writer(BLOCK_BYTES);
  for (const zero of zeroCounts) out.put('zeroCounts', 'i32', BLOCK_SAMPLES * zero);
  const perSum = (newtonsPerCount: number) => (newtonsPerCount * gramsPerNewton) / BLOCK_SAMPLES;
  for (let cell = 0; cell < 3; cell++)
    out.put('loadPerCount', 'i32', (-perSum(moment[cell]! - tipM * fx[cell]!) / LEVER_M) * 2 ** 40);
  for (const row of [fx, fz])
    for (const newtons of row) out.put('loadPerCount', 'i32', perSum(newtons) * 2 ** 40);
  putFelt(out, calibration);
  const emptyMoment = (bottle.emptyMassGrams * (tipM - bottle.emptyCentreZMm / 1000)) / LEVER_M;
  out.put('emptyMassGrams', 'u16', bottle.emptyMassGrams * 64);
  out.put('emptyCentreZMm', 'u16', emptyMoment * 64);
  out.put('teatTipZMm', 'u16', (tipM / LEVER_M) * 2 ** 14);
  const { capacityMl, z, x } = fitMoments(bottle.innerProfileMm, LEVER_M);
  const capacityGrams = capacityMl * MILK_DENSITY_GRAMS_PER_ML;
  out.put('innerProfileMm', 'u16', capacityGrams * 64);
  out.put('innerProfileMm', 'u32', 2 ** 24 / capacityGrams);
  for (const terms of [z, x])
    for (const term of terms) out.put('innerProfileMm', 'i16', term * MILK_DENSITY_GRAMS_PER_ML * 64);
  return out.bytes;
}

/** f = alignment · ((reading/8192 − bias) / scale), as integers for a sum of four readings. */
function putFelt(out: Writer, { accelerometer }: Calibration): void {
  const { biasG, scale, alignment } = accelerometer;
  const rows = alignment ?? [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ];
  for (const row of rows)
    row.forEach((share, axis) => {
      out.put('accelerometer', 'i16', (share / scale[axis]!) * COUNTS_PER_G);
    });
  for (const row of rows) {
    const zero = -row.reduce((sum, share, axis) => sum + (share * biasG[axis]!) / scale[axis]!, 0);
    out.put('accelerometer', 'i16', zero * 2 ** 14);
  }
}

const TYPES = {
  i16: { bytes: 2, least: -32768, greatest: 32767 },
  u16: { bytes: 2, least: 0, greatest: 65535 },
  i32: { bytes: 4, least: -(2 ** 31), greatest: 2 ** 31 - 1 },
  u32: { bytes: 4, least: 0, greatest: 2 ** 32 - 1 },
} as const;

/** Little-endian numbers in a row. */
class Writer {
  readonly bytes: Uint8Array;
  readonly #view: DataView;
  #at = 0;

  constructor(length: number) {
    this.bytes = new Uint8Array(length);
    this.#view = new DataView(this.bytes.buffer);
  }

  put(name: string, type: keyof typeof TYPES, value: number): void {
    const { bytes, least, greatest } = TYPES[type];
    const whole = Math.round(value);
    if (!(whole >= least && whole <= greatest))
      throw new PlainError(
        'alone-calibration',
        `The sleeve cannot guide on its own with this calibration: ${name} is out of the range of its chip.`,
        'Calibrate it again; if it stays, guide with the host.',
      );
    for (let i = 0; i < bytes; i++) this.#view.setUint8(this.#at + i, Math.floor(whole / 256 ** i) & 0xff);
    this.#at += bytes;
  }
}
