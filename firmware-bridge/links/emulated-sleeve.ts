/**
 * The sleeve as an emulated chip: runs the real sleeve's program, with emulated parts on its pins. It replaces a
 * simulated sleeve on a link; code above the link cannot tell the difference.
 */
import { existsSync, readFileSync } from 'node:fs';
import { CELLS, ELECTRICAL, pinNamed } from '../../hardware/pins.ts';
import { EmulatedAccelerometer } from './emulated-accelerometer.ts';
import { type ChipParts, type ChipReset, EmulatedChip } from './emulated-chip.ts';
import { EmulatedConverter } from './emulated-converter.ts';
import { readIntelHex } from './emulated-hex.ts';
import { EmulatedLine } from './emulated-line.ts';
import { DutyMeter, type MeasuredTone, ToneMeter } from './emulated-outputs.ts';
import type { SleeveModel } from './simulated-link.ts';

/** Inputs of the sleeve's parts. */
export interface Surroundings {
  /** Counts of the axial, front and rear cell. */
  readonly cells: readonly [number, number, number];
  /** Specific force along x, y, z, 1/8192 g. */
  readonly accelerometer: readonly [number, number, number];
  /**
   * Angular velocity about the bottle's x, y, z, °/s, right-handed: about y it is minus the rate of the tilt (sleeve contract,
   * section 1). Absent: unknown, and the sleeve's chip acts as one without a gyroscope.
   */
  readonly turningDps?: readonly [number, number, number];
  readonly buttonDown: boolean;
}

/** Source of the inputs. Called with increasing times, many times a sample. */
export interface SurroundingsSource {
  at(atSec: number): Surroundings;
}

/** What can be seen and heard of the sleeve at a moment. */
export interface Look {
  readonly atSec: number;
  readonly light: EmulatedLight;
  readonly tones: readonly MeasuredTone[];
}

/** Levels of the three colors at the pins, 0 (dark) to 255. */
export interface EmulatedLight {
  red: number;
  green: number;
  blue: number;
}

export interface EmulatedSleeveOptions {
  surroundings: SurroundingsSource;
  /** Intel HEX of the program; default: the one in hardware/firmware. */
  hex?: string;
  /** Clock of the chip, Hz; the program must have been built for it. Default: that of the usual boards. */
  clockHz?: number;
  /** Written to the chip's EEPROM; default 1. */
  sleeveNumber?: number;
  /** Called 20 times a second of device time, for a simulated caregiver. */
  onLook?: (look: Look) => void;
  /** The line ends when it returns true; default: never. */
  isOver?: () => boolean;
  /** Voltage of the battery's cell at A3; default 3900 mV. */
  cellMillivolts?: number;
  /** Slow, and must give the same result; see EmulatedChip. */
  everyTick?: boolean;
}

const LOOKS_PER_SEC = 20;
/** The three converters run on one clock, but their first readings differ by this. */
const SKEWS_SEC = [0, 90e-6, 210e-6] as const;

const bits = {
  red: pinNamed('LIGHT_RED').bit,
  green: pinNamed('LIGHT_GREEN').bit,
  blue: pinNamed('LIGHT_BLUE').bit,
  button: pinNamed('BUTTON').bit,
  buzzer: pinNamed('BUZZER').bit,
  clocks: CELLS.map((cell) => pinNamed(`${cell.toUpperCase()}_SCK`).bit),
  data: CELLS.map((cell) => pinNamed(`${cell.toUpperCase()}_DOUT`).bit),
  accelerometer: {
    interrupt: pinNamed('ACCEL_INT').bit,
    sda: pinNamed('ACCEL_SDA').bit,
    scl: pinNamed('ACCEL_SCL').bit,
  },
};

/** @returns path of a built program stored with the firmware; it is found from the sources and from the bundle alike. */
export function keptHex(name: 'sleeve' | 'sleeve-one-crystal' = 'sleeve'): string {
  const places = ['../../', '../'].map(
    (up) => new URL(`${up}hardware/firmware/${name}.hex`, import.meta.url),
  );
  return readFileSync(places.find((place) => existsSync(place)) ?? places[0]!, 'utf8');
}

export class EmulatedSleeve implements SleeveModel {
  readonly chip: EmulatedChip;
  readonly line: EmulatedLine;
  /** Axial, front, rear. */
  readonly converters: readonly EmulatedConverter[];
  readonly accelerometer: EmulatedAccelerometer;
  readonly #surroundings: SurroundingsSource;
  readonly #onLook: ((look: Look) => void) | null;
  readonly #isOver: () => boolean;
  readonly #duty = { red: new DutyMeter(), green: new DutyMeter(), blue: new DutyMeter() };
  readonly #tone: ToneMeter;
  #cellMillivolts: number;
  #supplyMillivolts: number = ELECTRICAL.supplyNominalMillivolts;
  #looks = 0;
  #unplugged = false;

  constructor(options: EmulatedSleeveOptions) {
    this.#surroundings = options.surroundings;
    this.#onLook = options.onLook ?? null;
    this.#isOver = options.isOver ?? (() => false);
    this.#cellMillivolts = options.cellMillivolts ?? 3900;
    const program = readIntelHex(options.hex ?? keptHex());
    this.chip = new EmulatedChip(program, (parts) => this.#attach(parts), options.everyTick, options.clockHz);
    this.#tone = new ToneMeter(this.chip.hz);
    this.line = new EmulatedLine(this.chip);
    this.converters = bits.data.map(
      (bit, cell) =>
        new EmulatedConverter(this.chip, bit, (atSec) => this.#feel(atSec).cells[cell]!, SKEWS_SEC[cell]!),
    );
    this.accelerometer = new EmulatedAccelerometer(this.chip, bits.accelerometer, (atSec) => {
      const { accelerometer, turningDps = null } = this.#feel(atSec);
      return { accelerometer, turningDps };
    });
    new DataView(this.chip.eeprom.memory.buffer).setUint32(0, options.sleeveNumber ?? 1, true);
    this.chip.reset('power');
  }

  /** Device time reached, seconds since it was switched on. */
  get atSec(): number {
    return this.chip.nowSec;
  }

  get ended(): boolean {
    return this.#isOver();
  }

  /** The light as measured at its pins. */
  light(): EmulatedLight {
    const { cycle } = this.chip;
    const { red, green, blue } = this.#duty;
    return { red: red.level(cycle), green: green.level(cycle), blue: blue.level(cycle) };
  }

  /** Pitch at the buzzer's pin, Hz; 0 when silent. */
  get buzzerHz(): number {
    return this.#tone.frequencyHz(this.chip.cycle);
  }

  /** All tones so far, latest last. */
  get tones(): readonly MeasuredTone[] {
    return this.#tone.tones;
  }

  advance(untilSec: number): Uint8Array {
    const untilCycle = untilSec * this.chip.hz;
    while (this.#onLook && this.#looks / LOOKS_PER_SEC <= untilSec) {
      const atSec = this.#looks++ / LOOKS_PER_SEC;
      this.chip.run(atSec * this.chip.hz);
      this.#onLook({ atSec, light: this.light(), tones: this.tones });
    }
    this.chip.run(untilCycle);
    const bytes = this.line.take(untilCycle);
    return this.#unplugged ? new Uint8Array(0) : bytes;
  }

  receive(bytes: Uint8Array): void {
    if (!this.#unplugged) this.line.send(bytes);
  }

  /** The cable is pulled: no bytes in either direction, while the sleeve runs on. */
  unplug(): void {
    this.#unplugged = true;
  }

  plugIn(): void {
    this.#unplugged = false;
  }

  /** Resets the chip; its parts run on. */
  reset(cause: ChipReset): void {
    this.chip.reset(cause);
  }

  /** Sets the supply voltage. Below the brown-out level the chip stops; it restarts when the voltage is back. */
  setSupply(millivolts: number): void {
    this.#supplyMillivolts = millivolts;
    this.chip.parts.adc.avcc = millivolts / 1000;
    if (millivolts < ELECTRICAL.brownOutMillivolts) this.chip.hold();
    else this.chip.release('brownOut');
  }

  /** Sets the voltage of the battery's cell, at A3. */
  setCell(millivolts: number): void {
    this.#cellMillivolts = millivolts;
    this.#showCell(this.chip.parts);
  }

  #showCell({ adc }: ChipParts): void {
    adc.channelValues[pinNamed('BATTERY_CELL').bit] = this.#cellMillivolts / 1000;
  }

  #feel(atSec: number): Surroundings {
    const now = this.#surroundings.at(atSec);
    this.chip.parts?.portD.setPin(bits.button, !now.buttonDown);
    return now;
  }

  #attach(parts: ChipParts): void {
    const { portB, portC, portD } = parts;
    parts.adc.avcc = this.#supplyMillivolts / 1000;
    this.#showCell(parts);
    this.line.attach(parts);
    this.converters.forEach((converter, cell) => {
      converter.setClock(false);
      converter.attach(portC);
      const mask = 1 << bits.clocks[cell]!;
      portB.addListener((levels) => converter.setClock((levels & mask) !== 0));
    });
    this.accelerometer.attach(parts);
    portB.addListener((levels) => this.#tone.set((levels & (1 << bits.buzzer)) !== 0, this.chip.cycle));
    const show = (levels: number): void => {
      const { cycle } = this.chip;
      for (const color of ['red', 'green', 'blue'] as const)
        this.#duty[color].set((levels & (1 << bits[color])) !== 0, cycle);
    };
    portD.addListener(show);
    show(0);
    portD.setPin(bits.button, true);
  }
}
