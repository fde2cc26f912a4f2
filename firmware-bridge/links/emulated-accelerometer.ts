/**
 * An accelerometer with a gyroscope on the emulated chip's I²C bus, with the registers of the MPU-6050 as far as the sleeve
 * uses them ("MPU-6000/MPU-6050 Register Map and Descriptions", RM-MPU-6000A-00, revision 4.2, section 4).
 */
import { PinState, type TWIEventHandler, twiConfig } from 'avr8js';
import { ELECTRICAL } from '../../hardware/pins.ts';
import {
  ACCELEROMETER_REGISTERS,
  type AccelerometerFault,
  type FeltMotion,
} from './accelerometer-registers.ts';
import type { ChipParts, EmulatedChip } from './emulated-chip.ts';

const R = ACCELEROMETER_REGISTERS;

const ADDRESS = 0x68;
/** Section 4.32: the upper six bits of the chip's address, whatever its address pin. */
const WHO_AM_I = 0x68;
/** Of a chip that keeps its registers but has no gyroscope: any other number. */
const ANOTHER_CHIP = 0x00;
/** A gyroscope's last digits never rest (0.05 °/s rms by its product specification, from memory); this one's mean is 0. */
const LAST_DIGIT = [-1, 0, 1, 0] as const;
const PULSE_SEC = 50e-6;
/** How long it is away after a reset of its own. */
const RESET_SEC = 0.03;
const BITS_PER_BYTE = 9;
const TWI_ENABLED = 0x04;
const TWI_IDLE = 0xf8;

export class EmulatedAccelerometer {
  fault: AccelerometerFault = {};
  readonly registers = new Uint8Array(128);
  /** Times the bus was freed by clock pulses. */
  busFreed = 0;
  readonly #chip: EmulatedChip;
  readonly #bits: { interrupt: number; sda: number; scl: number };
  readonly #read: (atSec: number) => FeltMotion;
  #parts: ChipParts | null = null;
  /** Goes up when the chip gives up whatever is under way on the bus. */
  #busTicket = 0;
  #rateTicket = 0;
  #awayUntil = 0;
  #pointer = 0;
  #pointerSet = false;
  #stuckAt: FeltMotion['accelerometer'] | null = null;
  #turningStuckAt: FeltMotion['turningDps'] = null;
  #clockLow = false;
  #readings = 0;

  /**
   * @param bits interrupt line in port D, data and clock line in port C
   * @param read what it feels at a time
   */
  constructor(
    chip: EmulatedChip,
    bits: { interrupt: number; sda: number; scl: number },
    read: (atSec: number) => FeltMotion,
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
      this.#chip.at(this.#chip.cycle + (bits * this.#chip.hz) / twi.sclFrequency, () => {
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
    const byte = this.#pointer === R.whoAmI ? this.#identity : this.registers[this.#pointer]!;
    if (this.#pointer === R.interruptStatus) this.registers[R.interruptStatus] = 0;
    this.#pointer = (this.#pointer + 1) & 0x7f;
    return byte;
  }

  /** Values after power on: asleep ("Register Map", section 3). */
  #powerOn(): void {
    this.registers.fill(0);
    this.registers[R.powerManagement1] = 0x40;
    this.#awayUntil = this.#chip.cycle + RESET_SEC * this.#chip.hz;
    this.#restartRate();
  }

  get #identity(): number {
    const hasGyroscope = this.#read(this.#chip.nowSec).turningDps !== null;
    return this.fault.whoAmI ?? (hasGyroscope ? WHO_AM_I : ANOTHER_CHIP);
  }

  get #isAwake(): boolean {
    return !(this.registers[R.powerManagement1]! & 0x40);
  }

  /** Readings a second: 1 kHz, shared out by the divider (section 4.2; the accelerometer's own rate is 1 kHz at the most). */
  #restartRate(): void {
    const ticket = ++this.#rateTicket;
    if (!this.#isAwake) return;
    const everyCycles = (this.#chip.hz / 1000) * (1 + this.registers[R.sampleRateDivider]!);
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
    this.#stuckAt = this.fault.stuck ? (this.#stuckAt ?? [...now.accelerometer]) : null;
    const felt = now.turningDps ?? ([0, 0, 0] as const);
    this.#turningStuckAt = this.fault.stuckGyroscope ? (this.#turningStuckAt ?? [...felt]) : null;
    // Section 4.5: ±2 g is 16384 counts per g, halved with each step of the range.
    const countsPerG = 16384 >> ((this.registers[R.accelConfig]! >> 3) & 3);
    this.#setAxes(R.accelXHigh, this.#stuckAt ?? now.accelerometer, countsPerG / 8192);
    // Section 4.19: ±250 °/s is 131 counts per °/s, halved with each step of the range. In standby (section 4.31) an axis gives nothing.
    const isOn = !(this.registers[R.powerManagement2]! & 0x07) && now.turningDps !== null;
    const countsPerDps = 131 / 2 ** ((this.registers[R.gyroConfig]! >> 3) & 3);
    const turning = this.#turningStuckAt ?? felt;
    const restless = isOn && !this.#turningStuckAt ? LAST_DIGIT[this.#readings++ % LAST_DIGIT.length]! : 0;
    this.#setAxes(R.gyroXHigh, turning, isOn ? countsPerDps : 0, restless);
    this.registers[R.interruptStatus]! |= 1;
    if (!(this.registers[R.interruptEnable]! & 1) || this.fault.noInterrupt || this.fault.silent) return;
    this.#setInterrupt(true);
    this.#chip.at(this.#chip.cycle + PULSE_SEC * this.#chip.hz, () => this.#setInterrupt(false));
  }

  /** The sleeve's axes as the chip's, which lies in it as the pin table says; high byte first, at the ends of the range clipped. */
  #setAxes(
    register: number,
    axes: readonly [number, number, number],
    countsPerUnit: number,
    restless = 0,
  ): void {
    for (let axis = 0; axis < 3; axis++) {
      const counts = Math.round(axes[axis]! * countsPerUnit) + restless;
      const word = Math.min(Math.max(counts, -32768), 32767) & 0xffff;
      const place = register + 2 * ELECTRICAL.motionAxes[axis]!;
      this.registers[place] = word >> 8;
      this.registers[place + 1] = word & 0xff;
    }
  }

  #setInterrupt(high: boolean): void {
    this.#parts?.portD.setPin(this.#bits.interrupt, high);
  }
}
