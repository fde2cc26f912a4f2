/** An emulated sleeve on a test bench: its inputs are known, its output goes through the real scanner. */
import { EmulatedSleeve, type EmulatedSleeveOptions } from '../../firmware-bridge/links/emulated-sleeve.ts';
import {
  createFirmataFramer,
  createScanner,
  encodeMessage,
  frameFirmata,
  type Identity,
  MESSAGES,
  type Motion,
  type Sample,
  type Sound,
  scan,
} from '../../firmware-bridge/wire/index.ts';

/** A sample with the cycle at which its last byte arrived. */
export interface HeardSample extends Sample {
  heardAtSec: number;
}

/** Counts run through this many values, 10 µs each: 80 s. */
const TICKS = 8_000_000;
const TICK_SEC = 1e-5;

/** Counts that encode the moment at which they were taken. */
export const cellsAt = (atSec: number): [number, number, number] => {
  const tick = Math.floor(atSec / TICK_SEC) % TICKS;
  return [tick, -tick - 1, tick - TICKS / 2];
};

/** @returns how long before `atSec` each count was taken, seconds; far off if it was never sent. */
export function agesOf([axial, front, rear]: readonly number[], atSec: number): [number, number, number] {
  const now = atSec / TICK_SEC;
  const ageOf = (tick: number): number => {
    const ticks = (now - tick) % TICKS;
    return (ticks > TICKS / 2 ? ticks - TICKS : ticks) * TICK_SEC;
  };
  return [ageOf(axial!), ageOf(-front! - 1), ageOf(rear! + TICKS / 2)];
}

/** A real accelerometer is never quite still; x encodes the moment in milliseconds. */
export const accelerometerAt = (atSec: number): [number, number, number] => {
  const tick = Math.floor(atSec * 1000) % 8000;
  return [tick, -tick, 8192 - (tick % 16)];
};

/** Like `accelerometerAt`: the rate about y encodes the moment in milliseconds, 1/65.5 °/s each. */
export const turningAt = (atSec: number): [number, number, number] => {
  const tick = Math.floor(atSec * 1000) % 8000;
  return [1, -tick / 65.5, 10];
};

export class EmulatedBench {
  readonly sleeve: EmulatedSleeve;
  readonly scanner = createScanner();
  readonly samples: HeardSample[] = [];
  readonly motions: Motion[] = [];
  readonly identities: Identity[] = [];
  /** Ordinary Firmata messages and all others, whole, in hex. */
  readonly messages: string[] = [];
  buttonDown = false;
  readonly #framer = createFirmataFramer('sleeve-to-host');
  readonly #chunkSec: number;
  #heartbeatEverySec = 0;
  #nextHeartbeatSec = 0;

  constructor(options: Partial<EmulatedSleeveOptions> & { chunkSec?: number } = {}) {
    const { chunkSec = 0.005, ...others } = options;
    this.#chunkSec = chunkSec;
    this.sleeve = new EmulatedSleeve({
      surroundings: {
        at: (atSec) => ({
          cells: cellsAt(atSec),
          accelerometer: accelerometerAt(atSec),
          turningDps: turningAt(atSec),
          buttonDown: this.buttonDown,
        }),
      },
      ...others,
    });
  }

  get atSec(): number {
    return this.sleeve.atSec;
  }

  get last(): HeardSample {
    return this.samples.at(-1)!;
  }

  /** Sends heartbeats from now on, each half second; 0 stops. */
  beat(on: boolean): void {
    this.#heartbeatEverySec = on ? 0.5 : 0;
    this.#nextHeartbeatSec = this.atSec;
  }

  send(...parts: (Uint8Array | readonly number[])[]): void {
    for (const part of parts) this.sleeve.receive(Uint8Array.from(part));
  }

  heartbeat(guidanceOn = 1): void {
    this.send(encodeMessage(MESSAGES.HEARTBEAT, { guidanceOn }));
  }

  sound(sound: Sound): void {
    this.send(encodeMessage(MESSAGES.SOUND, sound));
  }

  /** Level of a light pin, as a Firmata host writes it. */
  level(pin: 3 | 5 | 6, level: number): void {
    this.send([0xe0 | pin, level & 0x7f, level >> 7]);
  }

  /** Advances by `sec` seconds; @returns the samples received in that time */
  run(sec: number): HeardSample[] {
    const from = this.samples.length;
    const untilSec = this.atSec + sec;
    while (this.atSec < untilSec - 1e-9) {
      if (this.#heartbeatEverySec > 0 && this.atSec >= this.#nextHeartbeatSec) {
        this.heartbeat();
        this.#nextHeartbeatSec += this.#heartbeatEverySec;
      }
      const bytes = this.sleeve.advance(Math.min(this.atSec + this.#chunkSec, untilSec));
      frameFirmata(this.#framer, bytes, (message) => {
        if (message[1] !== MESSAGES.SAMPLE.id && message[1] !== MESSAGES.MOTION.id)
          this.messages.push(Buffer.from(message).toString('hex'));
      });
      scan(this.scanner, bytes, {
        sample: (sample) => this.samples.push({ ...sample, heardAtSec: this.atSec }),
        motion: (motion) => this.motions.push(motion),
        identity: (identity) => this.identities.push(identity),
      });
    }
    return this.samples.slice(from);
  }
}

/** Number of samples lost between the first and the last, by sequence. */
export const missingIn = (samples: readonly Sample[]): number =>
  samples
    .slice(1)
    .reduce((sum, { sequence }, i) => sum + ((sequence - samples[i]!.sequence - 1) & 0xffff), 0);
