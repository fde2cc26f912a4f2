/**
 * Splits the host's bytes into messages: Firmata's framing (protocol 2), SysEx and three-byte messages.
 * Never throws, and holds at most one SysEx of limited length; invalid bytes are counted and dropped.
 */

/** Receives the messages, in the order of the line. `frame` is the whole SysEx, F0 to F7. */
export interface HostSink {
  sysEx(frame: Uint8Array): void;
  /** `command` is 0x80–0xEF with the channel in its low half, or 0xF4, 0xF5. */
  short(command: number, first: number, second: number): void;
  versionAsked(): void;
  systemReset(): void;
}

const SYSEX_START = 0xf0;
const SYSEX_END = 0xf7;
const VERSION = 0xf9;
const SYSTEM_RESET = 0xff;
const PIN_MODE = 0xf4;
const PIN_VALUE = 0xf5;
/** Longest SysEx a sleeve accepts; Firmata's own buffer is 64 bytes of data, and our messages are much shorter. */
const LONGEST_FRAME = 66;

export class HostBytes {
  /** Bytes that belonged to no complete message. */
  dropped = 0;
  readonly #sink: HostSink;
  #pending: number[] = [];
  #overlong = false;

  constructor(sink: HostSink) {
    this.#sink = sink;
  }

  push(bytes: Uint8Array): void {
    for (const byte of bytes) this.#take(byte);
  }

  /** Drops an incomplete message, as a reset does. */
  clear(): void {
    this.#pending = [];
    this.#overlong = false;
  }

  #take(byte: number): void {
    if (byte < 0x80) this.#takeData(byte);
    else if (byte === SYSEX_END && this.#pending[0] === SYSEX_START) this.#endSysEx();
    else this.#begin(byte);
  }

  /** A command byte begins a new message; an unfinished one is dropped. */
  #begin(byte: number): void {
    this.dropped += this.#pending.length;
    this.clear();
    if (byte === VERSION) this.#sink.versionAsked();
    else if (byte === SYSTEM_RESET) this.#sink.systemReset();
    else if (byte === SYSEX_START || isShort(byte)) this.#pending = [byte];
    else this.dropped += 1;
  }

  #takeData(byte: number): void {
    const command = this.#pending[0];
    const full = command === SYSEX_START && this.#pending.length >= LONGEST_FRAME - 1;
    if (command === undefined || full) {
      this.#overlong = full;
      this.dropped += 1;
      return;
    }
    this.#pending.push(byte);
    if (command === SYSEX_START || this.#pending.length < shortLength(command)) return;
    const [, first, second] = this.#pending;
    this.clear();
    this.#sink.short(command, first!, second ?? 0);
  }

  #endSysEx(): void {
    const frame = Uint8Array.from([...this.#pending, SYSEX_END]);
    const whole = !this.#overlong && frame.length > 2;
    this.clear();
    if (whole) this.#sink.sysEx(frame);
    else this.dropped += frame.length;
  }
}

/** Analog, digital, reporting of either (Cx, Dx), pin mode, pin value. */
const isShort = (byte: number): boolean =>
  (byte >= 0x90 && byte < 0xf0) || byte === PIN_MODE || byte === PIN_VALUE;
/** Cx and Dx carry one byte, the others two. */
const shortLength = (command: number): number =>
  (command & 0xf0) === 0xc0 || (command & 0xf0) === 0xd0 ? 2 : 3;
