/** An emulated sleeve on a test bench: what it feels is known, what it says is heard by the real scanner. */
import {
  EmulatedSleeve,
  type EmulatedSleeveOptions,
  type Surroundings,
} from '../../firmware-bridge/links/emulated-sleeve.ts';
import {
  createFirmataFramer,
  createScanner,
  encodeMessage,
  frameFirmata,
  type Identity,
  MESSAGES,
  type Sample,
  type Sound,
  scan,
} from '../../firmware-bridge/wire/index.ts';

/** A sample with the cycle at which its last byte had come. */
export interface HeardSample extends Sample {
  heardAtSec: number;
}

/** Counts that tell the moment: no two readings within 100 s are alike, in no cell. */
export const cellsAt = (atSec: number): [number, number, number] => {
  const step = Math.floor(atSec * 1000);
  return [step, -3 * step - 1, 5_000_000 + 7 * step];
};

const STILL: Omit<Surroundings, 'cells'> = { accelerometer: [0, 0, 8192], buttonDown: false };

export class EmulatedBench {
  readonly sleeve: EmulatedSleeve;
  readonly scanner = createScanner();
  readonly samples: HeardSample[] = [];
  readonly identities: Identity[] = [];
  /** Ordinary Firmata messages and all others, whole, in hex. */
  readonly messages: string[] = [];
  buttonDown = false;
  /** What the converters were asked for: counts given at each conversion, by cell. */
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
          ...STILL,
          cells: cellsAt(atSec),
          // A real one is never quite still.
          accelerometer: [Math.round(20 * Math.sin(atSec * 321)), -40, 8192 + (Math.floor(atSec * 1000) % 7)],
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

  /** Beats from now on, each half second; 0 stops. */
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

  /** Lets `sec` seconds pass; @returns the samples heard in them. */
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
        if (message[1] !== MESSAGES.SAMPLE.id) this.messages.push(Buffer.from(message).toString('hex'));
      });
      scan(this.scanner, bytes, {
        sample: (sample) => this.samples.push({ ...sample, heardAtSec: this.atSec }),
        identity: (identity) => this.identities.push(identity),
      });
    }
    return this.samples.slice(from);
  }
}

/** The samples that were lost between the first and the last, by sequence. */
export const missingIn = (samples: readonly Sample[]): number =>
  samples
    .slice(1)
    .reduce((sum, { sequence }, i) => sum + ((sequence - samples[i]!.sequence - 1) & 0xffff), 0);
