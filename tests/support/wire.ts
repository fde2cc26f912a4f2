/** Invented samples, and collectors, for tests of code that reads messages. */
import {
  createScanner,
  finishScan,
  type Identity,
  type Motion,
  type Sample,
  type Scanner,
  scan,
  sleeveAnswers,
} from '../../firmware-bridge/wire/index.ts';

/** A plausible sample; `sequence` also sets its time, 12.5 ms apart. */
export const sampleOf = (sequence: number, more: Partial<Sample> = {}): Sample => ({
  sequence: sequence & 0xffff,
  timeMicros: (sequence * 12_500) >>> 0,
  cells: [120_345 + sequence, -45_678, 90_210],
  accelerometer: [8100, -240, -700],
  flags: 0,
  ...more,
});

/** How the sleeve turned at the time of that sample. */
export const motionOf = (sequence: number, more: Partial<Motion> = {}): Motion => ({
  sequence: sequence & 0xffff,
  gyroscope: [120 + (sequence % 50), -(sequence % 3000), 7],
  ...more,
});

/** The same samples as `streamOf`, each with its motion. */
export const turningStreamOf = (from: number, count: number): Uint8Array =>
  joined(
    Array.from({ length: count }, (_, i) => [
      ...sleeveAnswers.sample(sampleOf(from + i)),
      ...sleeveAnswers.motion(motionOf(from + i)),
    ]),
  );

/** Samples `from` to `from + count − 1`, as bytes. */
export const streamOf = (from: number, count: number): Uint8Array =>
  joined(Array.from({ length: count }, (_, i) => sleeveAnswers.sample(sampleOf(from + i))));

export function joined(parts: readonly (Uint8Array | readonly number[])[]): Uint8Array {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

export const fromHex = (hex: string): Uint8Array => Uint8Array.from(Buffer.from(hex, 'hex'));
export const toHex = (bytes: Uint8Array): string => Buffer.from(bytes).toString('hex');

/** Scans `chunks` to the end; returns what was found and the scanner. */
export function scanAll(...chunks: Uint8Array[]): {
  samples: Sample[];
  motions: Motion[];
  identities: Identity[];
  scanner: Scanner;
} {
  const scanner = createScanner();
  const samples: Sample[] = [];
  const motions: Motion[] = [];
  const identities: Identity[] = [];
  const sink = {
    sample: (s: Sample): unknown => samples.push(s),
    motion: (m: Motion): unknown => motions.push(m),
    identity: (i: Identity): unknown => identities.push(i),
  };
  for (const chunk of chunks) scan(scanner, chunk, sink);
  finishScan(scanner);
  return { samples, motions, identities, scanner };
}
