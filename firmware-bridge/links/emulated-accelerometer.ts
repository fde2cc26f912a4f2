/**
 * A three-axis accelerometer on the emulated chip's I²C bus, with the registers of the MPU-6050 as far as the sleeve
 * uses them ("MPU-6000/MPU-6050 Register Map and Descriptions", RM-MPU-6000A-00, revision 4.2, section 4).
 */
import { PinState, type TWIEventHandler, twiConfig } from 'avr8js';
import { CHIP_HZ, type ChipParts, type EmulatedChip } from './emulated-chip.ts';

export const ACCELEROMETER_REGISTERS = {
  sampleRateDivider: 0x19,
  config: 0x1a,
  accelConfig: 0x1c,
  interruptPin: 0x37,
  interruptEnable: 0x38,
  interruptStatus: 0x3a,
  accelXHigh: 0x3b,
  powerManagement1: 0x6b,
  powerManagement2: 0x6c,
  whoAmI: 0x75,
} as const;
const R = ACCELEROMETER_REGISTERS;

const ADDRESS = 0x68;
const PULSE_CYCLES = 50e-6 * CHIP_HZ;
/** How long it is away after a reset of its own. */
const RESET_CYCLES = 0.03 * CHIP_HZ;
const BITS_PER_BYTE = 9;
const TWI_ENABLED = 0x04;
const TWI_IDLE = 0xf8;

export interface AccelerometerFault {
  /** Answers nothing. */
  silent?: boolean;
  /** Its axes no longer move. */
  stuck?: boolean;
  /** Its interrupt line is torn off. */
  noInterrupt?: boolean;
  /** It was cut off in mid-byte and holds the data line low until the clock has been pulsed so often. */
  holdsBusFor?: number;
}

export class EmulatedAccelerometer {
  fault: AccelerometerFault = {};
  readonly registers = new Uint8Array(128);
  /** Times the bus was freed by clock pulses. */
  busFreed = 0;
  readonly #chip: EmulatedChip;
  readonly #bits: { interrupt: number; sda: number; scl: number };
  readonly #read: (atSec: number) => readonly [number, number, number];
  #parts: ChipParts | null = null;
  /** Goes up when the chip gives up whatever is under way on the bus. */
  #busTicket = 0;
  #rateTicket = 0;
  #awayUntil = 0;
  #pointer = 0;
  #pointerSet = false;
  #stuckAt: readonly [number, number, number] | null = null;
  #clockLow = false;

  /**
   * @param bits interrupt line in port D, data and clock line in port C
   * @param read axes at a time, 1/8192 g
   */
  constructor(
    chip: EmulatedChip,
    bits: { interrupt: number; sda: number; scl: number },
    read: (atSec: number) => readonly [number, number, number],
  ) {
    this.#chip = chip;
    this.#bits = bits;
    this.#read = read;
    this.#powerOn();
  }

  attach(parts: ChipParts): void {
    this.#parts = parts;
    this.#busTicket++;
    const { cpu, twi, portC } = parts;
    const { sda, scl } = this.#bits;
    portC.setPin(scl, true);
    portC.setPin(sda, !this.fault.holdsBusFor);
    portC.addListener(() => this.#watchClock());
    twi.eventHandler = this.#bus();
    const { TWCR, TWSR } = twiConfig;
    const writeControl = cpu.writeHooks[TWCR]!;
    cpu.writeHooks[TWCR] = (value, old, address, mask) => {
      if (!(value & TWI_ENABLED)) {
        // Switched off, the chip's bus unit forgets what it was at; avr8js would be busy for ever.
        this.#busTicket++;
        (twi as unknown as { busy: boolean }).busy = false;
        cpu.data[TWSR] = (cpu.data[TWSR]! & 0x03) | TWI_IDLE;
      }
      return writeControl(value, old, address, mask);
    };
  }

  /** From now on it holds the data line until the clock has been pulsed `pulses` times. */
  holdBus(pulses: number): void {
    this.fault.holdsBusFor = pulses;
    this.#busTicket++;
    this.#parts?.portC.setPin(this.#bits.sda, false);
  }

  /** Its supply is gone for a moment: it forgets its registers. */
  powerCycle(): void {
    this.#powerOn();
  }

  #watchClock(): void {
    const low = this.#parts!.portC.pinState(this.#bits.scl) === PinState.Low;
    const pulsed = this.#clockLow && !low;
    this.#clockLow = low;
    if (!pulsed || !this.fault.holdsBusFor) return;
    this.fault.holdsBusFor--;
    if (this.fault.holdsBusFor === 0) {
      this.busFreed++;
      this.#parts!.portC.setPin(this.#bits.sda, true);
    }
  }

  /** The bus takes its time: a byte is nine clock periods of what the chip has set. */
  #bus(): TWIEventHandler {
    const { twi } = this.#parts!;
    const after = (bits: number, run: () => void): void => {
      const ticket = this.#busTicket;
      this.#chip.at(this.#chip.cycle + (bits * CHIP_HZ) / twi.sclFrequency, () => {
        if (ticket === this.#busTicket && !this.fault.holdsBusFor) run();
      });
    };
    return {
      start: () => after(1, () => twi.completeStart()),
      stop: () => after(1, () => twi.completeStop()),
      connectToSlave: (address, write) =>
        after(BITS_PER_BYTE, () => {
          if (write) this.#pointerSet = false;
          twi.completeConnect(address === ADDRESS && this.#answers);
        }),
      writeByte: (byte) =>
        after(BITS_PER_BYTE, () => {
          const answers = this.#answers;
          if (answers) this.#write(byte);
          twi.completeWrite(answers);
        }),
      readByte: () => after(BITS_PER_BYTE, () => twi.completeRead(this.#answers ? this.#readNext() : 0xff)),
    };
  }

  get #answers(): boolean {
    return !this.fault.silent && this.#chip.cycle >= this.#awayUntil;
  }

  #write(byte: number): void {
    if (!this.#pointerSet) {
      this.#pointer = byte & 0x7f;
      this.#pointerSet = true;
      return;
    }
    const register = this.#pointer;
    this.#pointer = (this.#pointer + 1) & 0x7f;
    if (register === R.powerManagement1 && byte & 0x80) {
      this.#powerOn();
      return;
    }
    this.registers[register] = byte;
    this.#restartRate();
  }

  #readNext(): number {
    const byte = this.registers[this.#pointer]!;
    if (this.#pointer === R.interruptStatus) this.registers[R.interruptStatus] = 0;
    this.#pointer = (this.#pointer + 1) & 0x7f;
    return byte;
  }

  /** Values after power on: asleep, and 0x68 for who it is ("Register Map", section 3). */
  #powerOn(): void {
    this.registers.fill(0);
    this.registers[R.powerManagement1] = 0x40;
    this.registers[R.whoAmI] = 0x68;
    this.#awayUntil = this.#chip.cycle + RESET_CYCLES;
    this.#restartRate();
  }

  get #isAwake(): boolean {
    return !(this.registers[R.powerManagement1]! & 0x40);
  }

  /** Readings a second: 1 kHz, shared out by the divider (section 4.2; the accelerometer's own rate is 1 kHz at the most). */
  #restartRate(): void {
    const ticket = ++this.#rateTicket;
    if (!this.#isAwake) return;
    const everyCycles = (CHIP_HZ / 1000) * (1 + this.registers[R.sampleRateDivider]!);
    const again = (atCycle: number): void =>
      this.#chip.at(atCycle, () => {
        if (ticket !== this.#rateTicket) return;
        this.#measure();
        again(atCycle + everyCycles);
      });
    again(this.#chip.cycle + everyCycles);
  }

  #measure(): void {
    const now = this.#read(this.#chip.nowSec);
    if (!this.fault.stuck) this.#stuckAt = null;
    else this.#stuckAt ??= [now[0], now[1], now[2]];
    const axes = this.#stuckAt ?? now;
    // Section 4.5: ±2 g is 16384 counts per g, halved with each step of the range.
    const countsPerG = 16384 >> ((this.registers[R.accelConfig]! >> 3) & 3);
    for (let axis = 0; axis < 3; axis++) {
      const counts = Math.round((axes[axis]! * countsPerG) / 8192);
      const word = Math.min(Math.max(counts, -32768), 32767) & 0xffff;
      this.registers[R.accelXHigh + 2 * axis] = word >> 8;
      this.registers[R.accelXHigh + 2 * axis + 1] = word & 0xff;
    }
    this.registers[R.interruptStatus]! |= 1;
    if (!(this.registers[R.interruptEnable]! & 1) || this.fault.noInterrupt || this.fault.silent) return;
    this.#setInterrupt(true);
    this.#chip.at(this.#chip.cycle + PULSE_CYCLES, () => this.#setInterrupt(false));
  }

  #setInterrupt(high: boolean): void {
    this.#parts?.portD.setPin(this.#bits.interrupt, high);
  }
}
