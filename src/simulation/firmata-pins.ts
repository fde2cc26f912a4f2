/**
 * The sleeve's pins as a Firmata host sees them, and the answers of the handshake (Firmata protocol 2.x).
 * Light red 3, green 5, blue 6 (PWM); button 4 (pull-up, pressed = low); the buzzer's pin 9 is not offered.
 */

export interface Light {
  red: number;
  green: number;
  blue: number;
}

const PIN_COUNT = 20;
const LIGHT_PINS = { red: 3, green: 5, blue: 6 } as const;
const BUTTON_PIN = 4;
const MODE = { input: 0x00, output: 0x01, pwm: 0x03, pullUp: 0x0b } as const;
const LIGHT_MODES = [MODE.output, 1, MODE.pwm, 8] as const;
const BUTTON_MODES = [MODE.input, 1, MODE.pullUp, 1] as const;
const FIRMATA_VERSION = [2, 6] as const;
const FIRMWARE_NAME = 'ebbline-sleeve';
const NO_ANALOGUE = 0x7f;

export const SYSEX = {
  extendedAnalogue: 0x6f,
  analogueMapping: 0x69,
  analogueMappingAnswer: 0x6a,
  capability: 0x6b,
  capabilityAnswer: 0x6c,
  pinState: 0x6d,
  pinStateAnswer: 0x6e,
  text: 0x71,
  firmware: 0x79,
} as const;

const sysEx = (command: number, ...data: number[]): Uint8Array =>
  Uint8Array.from([0xf0, command, ...data, 0xf7]);

export const versionAnswer = (): Uint8Array => Uint8Array.from([0xf9, ...FIRMATA_VERSION]);

/** Name and version; each character in two bytes of 7 bits, low one first. */
export function firmwareAnswer(version: readonly [number, number, number]): Uint8Array {
  const name = [...FIRMWARE_NAME].flatMap((letter) => [
    letter.charCodeAt(0) & 0x7f,
    letter.charCodeAt(0) >> 7,
  ]);
  return sysEx(SYSEX.firmware, version[0], version[1], ...name);
}

const modesOf = (pin: number): readonly number[] =>
  isLight(pin) ? LIGHT_MODES : pin === BUTTON_PIN ? BUTTON_MODES : [];

const isLight = (pin: number): boolean =>
  pin === LIGHT_PINS.red || pin === LIGHT_PINS.green || pin === LIGHT_PINS.blue;

export function capabilityAnswer(): Uint8Array {
  const pins = Array.from({ length: PIN_COUNT }, (_, pin) => [...modesOf(pin), 0x7f]);
  return sysEx(SYSEX.capabilityAnswer, ...pins.flat());
}

export const analogueMappingAnswer = (): Uint8Array =>
  sysEx(SYSEX.analogueMappingAnswer, ...Array.from({ length: PIN_COUNT }, () => NO_ANALOGUE));

/** Modes and outputs of the pins; all that the host may set. */
export class FirmataPins {
  buttonDown = false;
  #modes = new Map<number, number>();
  #levels = new Map<number, number>();
  #reportedPorts = new Set<number>();

  clear(): void {
    this.#modes.clear();
    this.#levels.clear();
    this.#reportedPorts.clear();
  }

  darken(): void {
    this.#levels.clear();
  }

  /** The light as last set by the host, 0–255 each. */
  get light(): Light {
    const level = (pin: number): number => this.#levels.get(pin) ?? 0;
    return { red: level(LIGHT_PINS.red), green: level(LIGHT_PINS.green), blue: level(LIGHT_PINS.blue) };
  }

  setMode(pin: number, mode: number): void {
    const modes = modesOf(pin);
    if (modes.some((offered, place) => place % 2 === 0 && offered === mode)) this.#modes.set(pin, mode);
  }

  setLevel(pin: number, level: number): void {
    if (isLight(pin)) this.#levels.set(pin, Math.min(Math.max(level, 0), 255));
  }

  setDigital(pin: number, high: boolean): void {
    this.setLevel(pin, high ? 255 : 0);
  }

  setDigitalPort(port: number, bits: number): void {
    for (let bit = 0; bit < 8; bit++) {
      const pin = port * 8 + bit;
      // A port message carries all eight pins; pins in PWM mode keep their level.
      if (isLight(pin) && this.#modes.get(pin) === MODE.output)
        this.setDigital(pin, (bits & (1 << bit)) !== 0);
    }
  }

  /** @returns the port's state when reporting is turned on, else null */
  report(port: number, on: boolean): Uint8Array | null {
    if (!on) {
      this.#reportedPorts.delete(port);
      return null;
    }
    if (port * 8 >= PIN_COUNT) return null;
    this.#reportedPorts.add(port);
    return this.#portState(port);
  }

  /** @returns the message to the host when the button changes, or null if reporting is off */
  press(down: boolean): Uint8Array | null {
    if (this.buttonDown === down) return null;
    this.buttonDown = down;
    const port = BUTTON_PIN >> 3;
    return this.#reportedPorts.has(port) ? this.#portState(port) : null;
  }

  pinStateAnswer(pin: number): Uint8Array | null {
    if (pin >= PIN_COUNT) return null;
    const mode = this.#modes.get(pin) ?? modesOf(pin)[0] ?? MODE.input;
    const pulledUp = pin === BUTTON_PIN && mode === MODE.pullUp;
    const state = pulledUp ? 1 : (this.#levels.get(pin) ?? 0);
    return sysEx(SYSEX.pinStateAnswer, pin, mode, state & 0x7f, ...(state > 0x7f ? [state >> 7] : []));
  }

  #portState(port: number): Uint8Array {
    const bit = port === BUTTON_PIN >> 3 && !this.buttonDown ? 1 << (BUTTON_PIN & 7) : 0;
    return Uint8Array.from([0x90 | port, bit & 0x7f, bit >> 7]);
  }

  /** Takes a short message of the host. @returns the answer, null if there is none */
  take(command: number, first: number, second: number): Uint8Array | null {
    const channel = command & 0x0f;
    const both = first | (second << 7);
    if (command >> 4 === 0xd) return this.report(channel, first !== 0);
    if (command === 0xf4) this.setMode(first, second);
    else if (command === 0xf5) this.setDigital(first, second !== 0);
    else if (command >> 4 === 0x9) this.setDigitalPort(channel, both);
    else if (command >> 4 === 0xe) this.setLevel(channel, both);
    return null;
  }
}
