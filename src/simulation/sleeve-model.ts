/** The simulated sleeve as a device on a line: implements the whole sleeve contract, section 2, and Firmata's handshake. */
import type { SleeveModel } from '../../firmware-bridge/links/simulated-link.ts';
import { decodeMessage, encodeMessage } from '../../firmware-bridge/wire/codec.ts';
import { CONTRACT_VERSION, MESSAGES, SAMPLE_FLAGS } from '../../firmware-bridge/wire/messages.ts';
import { batteryAnswer } from './battery.ts';
import { Buzzer, type Tone } from './buzzer.ts';
import type { SeenCue } from './caregiver.ts';
import {
  analogueMappingAnswer,
  capabilityAnswer,
  FirmataPins,
  firmwareAnswer,
  type Light,
  SYSEX,
  versionAnswer,
} from './firmata-pins.ts';
import { HostBytes } from './host-bytes.ts';
import { noGuidanceLight } from './no-guidance.ts';
import { createSimulatedFeed, type FeedOptions, type SimulatedFeed } from './simulated-feed.ts';

/** How the caregiver reads light and tones (latest last); called 20 times a second. */
export type Perceive = (light: Light, tones: readonly Tone[], atSec: number) => SeenCue | null;

export interface SleeveOptions {
  feed: FeedOptions;
  /** Default: the seed. */
  sleeveNumber?: number;
  /** Default: she sees nothing. */
  perceive?: Perceive;
  /** The line ends when the feed is over; default: the sleeve continues, standing on the table. */
  endsWithFeed?: boolean;
  /** Charge of its battery when it is switched on, %; default 90. Null: not measured and no answer. */
  batteryPercent?: number | null;
}

/** Why a sleeve last reset (sleeve contract, IDENTITY). */
const RESET_CAUSE = { power: 0, brownOut: 1, watchdog: 2, external: 3 } as const;
export type ResetCause = keyof typeof RESET_CAUSE;

/** Without a heartbeat for this long no guidance is shown. */
const HEARTBEAT_LIMIT_SEC = 2;
const FIRMWARE_VERSION: [number, number, number] = [0, 1, 0];
const LONGEST_TEXT_LOG = 100;
const SAMPLES_PER_LOOK = 4;

export class SimulatedSleeve implements SleeveModel {
  readonly feed: SimulatedFeed;
  /** Counts of complete messages received: known ones by name, all of Firmata's under `firmata`. */
  readonly received = {
    IDENTITY: 0,
    STREAM: 0,
    SOUND: 0,
    HEARTBEAT: 0,
    BATTERY: 0,
    firmata: 0,
    unknown: 0,
  };
  /** Texts that the host sent, latest last. */
  readonly texts: string[] = [];
  /** Content of the last heartbeat. */
  guidanceOn = false;
  readonly #sleeveNumber: number;
  readonly #perceive: Perceive | null;
  readonly #endsWithFeed: boolean;
  readonly #batteryPercent: number | null;
  readonly #pins = new FirmataPins();
  readonly #buzzer = new Buzzer();
  readonly #host: HostBytes;
  #out: Uint8Array[] = [];
  #nowSec = 0;
  #streaming = true;
  #plugged = true;
  #resetCause: ResetCause = 'power';
  #heartbeatSec = Number.NEGATIVE_INFINITY;
  #alive = false;
  #wasAway = true;
  #looks = 0;

  constructor(options: SleeveOptions) {
    this.feed = createSimulatedFeed(options.feed);
    this.#sleeveNumber = (options.sleeveNumber ?? options.feed.seed) >>> 0;
    this.#perceive = options.perceive ?? null;
    this.#endsWithFeed = options.endsWithFeed ?? false;
    this.#batteryPercent = options.batteryPercent === undefined ? 90 : options.batteryPercent;
    this.#host = new HostBytes({
      sysEx: (frame) => this.#onSysEx(frame),
      short: (command, first, second) => this.#onShort(command, first, second),
      versionAsked: () => this.#send(versionAnswer()),
      systemReset: () => this.#pins.clear(),
    });
  }

  get ended(): boolean {
    return this.#endsWithFeed && this.feed.done;
  }

  /** Device time reached, s since it was switched on. */
  get atSec(): number {
    return this.#nowSec;
  }

  /** Everything played so far, latest last. */
  get tones(): readonly Tone[] {
    return this.#buzzer.tones;
  }

  /** Pitch at this moment, Hz; 0 when silent. */
  get buzzerHz(): number {
    return this.#buzzer.frequencyAt(this.#nowSec);
  }

  /** Bytes from the host that belonged to no message. */
  get droppedBytes(): number {
    return this.#host.dropped;
  }

  /** What the light shows at this moment, 0–255 each: the host's colors, or "no guidance" without a heartbeat. */
  light(): Light {
    if (this.#isGuided) return this.#pins.light;
    return noGuidanceLight(this.#nowSec);
  }

  get hasHeartbeat(): boolean {
    return this.#nowSec - this.#heartbeatSec <= HEARTBEAT_LIMIT_SEC;
  }

  /** True while heartbeats come and say that the host guides; otherwise its light and sound are ignored. */
  get #isGuided(): boolean {
    return this.hasHeartbeat && this.guidanceOn;
  }

  pressButton(): void {
    this.#send(this.#pins.press(true));
  }

  releaseButton(): void {
    this.#send(this.#pins.press(false));
  }

  /** The cable is pulled: no bytes pass, the sleeve keeps running. */
  unplug(): void {
    this.#plugged = false;
  }

  plugIn(): void {
    this.#plugged = true;
  }

  /** Resets the chip: no samples for about a second, and all settings of the host are lost. */
  reset(cause: ResetCause): void {
    this.#resetCause = cause;
    this.feed.resetChip();
  }

  receive(bytes: Uint8Array): void {
    if (this.#plugged && !this.feed.chipAway) this.#host.push(bytes);
  }

  advance(untilSec: number): Uint8Array {
    while (this.feed.nextSec < untilSec + 1e-9) {
      this.#nowSec = Math.max(this.#nowSec, this.feed.nextSec);
      this.#step();
    }
    this.#nowSec = Math.max(this.#nowSec, untilSec);
    this.#watchHeartbeat();
    const bytes = this.#plugged ? new Uint8Array(Buffer.concat(this.#out)) : new Uint8Array(0);
    this.#out = [];
    return bytes;
  }

  #step(): void {
    this.#watchHeartbeat();
    const { sample, motion } = this.feed.step();
    const away = this.feed.chipAway;
    if (away && !this.#wasAway) this.#goDark();
    else if (!away && this.#wasAway) this.#boot();
    this.#wasAway = away;
    if (this.#perceive && this.#looks++ % SAMPLES_PER_LOOK === 0) {
      this.feed.perceive(this.#perceive(this.light(), this.tones, this.#nowSec));
    }
    if (!this.#streaming) return;
    if (sample && this.#pins.buttonDown) sample.flags |= SAMPLE_FLAGS.buttonDown;
    this.#send(sample && encodeMessage(MESSAGES.SAMPLE, sample));
    this.#send(motion && encodeMessage(MESSAGES.MOTION, motion));
  }

  #goDark(): void {
    this.#buzzer.silence(this.#nowSec);
    this.#pins.clear();
    this.#host.clear();
    this.#heartbeatSec = Number.NEGATIVE_INFINITY;
    this.#alive = false;
    this.#streaming = true;
    this.guidanceOn = false;
  }

  #boot(): void {
    this.#send(versionAnswer());
    this.#send(firmwareAnswer(FIRMWARE_VERSION));
    this.#sendIdentity();
  }

  /** Without a heartbeat the buzzer is silenced and the last cue is dropped. */
  #watchHeartbeat(): void {
    if (!this.#alive || this.hasHeartbeat) return;
    this.#alive = false;
    this.#forgetCue();
  }

  #forgetCue(): void {
    this.#buzzer.silence(this.#nowSec);
    this.#pins.darken();
  }

  #onSysEx(frame: Uint8Array): void {
    if (this.#takeOwn(frame)) return;
    if (this.#takeFirmata(frame[1]!, frame.subarray(2, -1))) this.received.firmata += 1;
    else this.received.unknown += 1;
  }

  /** @returns whether it was a whole message of the sleeve contract */
  #takeOwn(frame: Uint8Array): boolean {
    if (frame[1] === MESSAGES.IDENTITY.id && frame.length === 3) {
      this.received.IDENTITY += 1;
      this.#sendIdentity();
      return true;
    }
    const battery = batteryAnswer(frame, this.#batteryPercent, this.#nowSec);
    if (battery) {
      this.received.BATTERY += 1;
      this.#send(battery);
      return true;
    }
    const stream = decodeMessage(MESSAGES.STREAM, frame);
    if (stream) {
      this.received.STREAM += 1;
      this.#streaming = stream.on !== 0;
      return true;
    }
    const sound = decodeMessage(MESSAGES.SOUND, frame);
    if (sound) {
      this.received.SOUND += 1;
      if (this.#isGuided) this.#buzzer.play(sound, this.#nowSec);
      return true;
    }
    const heartbeat = decodeMessage(MESSAGES.HEARTBEAT, frame);
    if (!heartbeat) return false;
    this.received.HEARTBEAT += 1;
    // Light set while nobody guided is dropped too.
    if (this.#heartbeatSec >= 0 && !this.#isGuided) this.#pins.darken();
    this.#heartbeatSec = this.#nowSec;
    this.#alive = true;
    this.guidanceOn = heartbeat.guidanceOn !== 0;
    if (!this.guidanceOn) this.#forgetCue();
    return true;
  }

  /** @returns whether it was a Firmata message that the sleeve knows */
  #takeFirmata(command: number, data: Uint8Array): boolean {
    if (command === SYSEX.firmware) this.#send(firmwareAnswer(FIRMWARE_VERSION));
    else if (command === SYSEX.capability) this.#send(capabilityAnswer());
    else if (command === SYSEX.analogueMapping) this.#send(analogueMappingAnswer());
    else if (command === SYSEX.pinState && data.length === 1) {
      this.#send(this.#pins.pinStateAnswer(data[0]!));
    } else if (command === SYSEX.extendedAnalogue && data.length >= 2) {
      this.#pins.setLevel(data[0]!, data[1]! | ((data[2] ?? 0) << 7));
    } else if (command === SYSEX.text) this.#keepText(data);
    else return false;
    return true;
  }

  #onShort(command: number, first: number, second: number): void {
    this.received.firmata += 1;
    this.#send(this.#pins.take(command, first, second));
  }

  #keepText(data: Uint8Array): void {
    let text = '';
    for (let i = 0; i + 1 < data.length; i += 2) text += String.fromCharCode(data[i]! | (data[i + 1]! << 7));
    this.texts.push(text);
    if (this.texts.length > LONGEST_TEXT_LOG) this.texts.shift();
  }

  #sendIdentity(): void {
    const [contractVersion, firmwareVersion, sleeveNumber] = [
      CONTRACT_VERSION,
      FIRMWARE_VERSION,
      this.#sleeveNumber,
    ];
    const resetCause = RESET_CAUSE[this.#resetCause];
    this.#send(
      encodeMessage(MESSAGES.IDENTITY, { contractVersion, firmwareVersion, sleeveNumber, resetCause }),
    );
  }

  #send(bytes: Uint8Array | null): void {
    if (bytes) this.#out.push(bytes);
  }
}
