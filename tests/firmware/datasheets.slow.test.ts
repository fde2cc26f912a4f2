/**
 * The firmware against the datasheets of its parts, each with its section. Numbers of the HX711 datasheet (Avia
 * Semiconductor), of the ATmega328P datasheet (Microchip DS40002061), and of "MPU-6000/MPU-6050 Register Map and
 * Descriptions" (RM-MPU-6000A-00, revision 4.2).
 */
import { describe, expect, it } from 'vitest';
import { CHIP_HZ } from '../../firmware-bridge/links/emulated-chip.ts';
import { ELECTRICAL } from '../../hardware/pins.ts';
import { accelerometerAt, EmulatedBench } from '../support/emulated.ts';

const bench = new EmulatedBench();
bench.beat(true);
bench.run(1);
const { data } = bench.sleeve.chip.parts.cpu;

describe('HX711 datasheet', () => {
  it('"Serial Interface", table of T1 to T4, on the wires of a second of readings', () => {
    for (const { times } of bench.sleeve.converters) {
      // T1: DOUT falling to the first PD_SCK rising, at least 0.1 µs.
      expect(times.readyToFirstPulse).toBeGreaterThanOrEqual(0.1);
      // T2 is the converter's: data is ready 0.1 µs after the rising edge; it is read just before the falling one.
      // T3: PD_SCK high, 0.2 to 50 µs.
      expect(times.shortestHigh).toBeGreaterThanOrEqual(0.2);
      expect(times.longestHigh).toBeLessThan(50);
      // T4: PD_SCK low, at least 0.2 µs.
      expect(times.shortestLow).toBeGreaterThanOrEqual(0.2);
    }
  });

  it('"Serial Interface": 25 pulses a reading, which is channel A with gain 128, and none while nothing is ready', () => {
    expect(bench.sleeve.converters.map(({ wrongPulses }) => wrongPulses)).toEqual([0, 0, 0]);
    expect(ELECTRICAL.converterGain).toBe(128);
  });

  it('"Reset and Power-Down": started by a high of more than 60 µs, once, all at the same time', () => {
    expect(bench.sleeve.converters.map(({ starts }) => starts)).toEqual([1, 1, 1]);
  });

  it('"Output Data Rate and Format": two’s complement from 800000h to 7FFFFFh, its ends told as saturated', () => {
    const given: [number, number, number] = [0, 0, 0];
    const ends = new EmulatedBench({
      surroundings: { at: () => ({ cells: given, accelerometer: [0, 0, 8192], buttonDown: false }) },
    });
    ends.run(0.1);
    for (const [count, fault] of [
      [0, 0],
      [1, 0],
      [-1, 0],
      [0x123456, 0],
      [-0x123456, 0],
      [0x7ffffe, 0],
      [-0x7fffff, 0],
      [0x7fffff, 7],
      [-0x800000, 7],
    ] as const) {
      given.fill(count);
      ends.run(0.03);
      expect(ends.last.cells).toEqual([count, count, count]);
      expect(ends.last.flags & 7).toBe(fault);
    }
  });

  it('"Key Electrical Characteristics": an external clock divided by 138,240 at RATE high gives 80 a second', () => {
    expect(ELECTRICAL.converterClockHz / ELECTRICAL.converterDivider).toBe(80);
    // Highest external clock: 20 MHz.
    expect(ELECTRICAL.converterClockHz).toBeLessThan(20e6);
  });
});

describe('ATmega328P datasheet', () => {
  it('"Examples of Baud Rate Setting" at 16 MHz, U2X = 1: 115.2 kbaud is UBRR 16, +2.1 %', () => {
    const UCSR0A = data[0xc0]!;
    const UBRR0 = data[0xc4]! | (data[0xc5]! << 8);
    expect(UCSR0A & 0x02).toBe(0x02);
    expect(UBRR0).toBe(16);
    // "Equations for Calculating Baud Rate Register Setting", asynchronous double speed mode.
    const baud = CHIP_HZ / (8 * (UBRR0 + 1));
    expect(((baud / 115_200 - 1) * 100).toFixed(1)).toBe('2.1');
    // "Recommended Maximum Receiver Baud Rate Error" for double speed, 8 bits: +3.53 % at the most, from memory.
    expect(Math.abs(baud / 115_200 - 1)).toBeLessThan(0.0353);
  });

  it('"Fast PWM Mode": clock / (N·256) = 976.56 Hz on all three colors of the light', () => {
    const CS0 = data[0x45]! & 7;
    const CS2 = data[0xb1]! & 7;
    // "Clock Select Bit Description": 011 is /64 for Timer0, 100 is /64 for Timer2.
    expect([CS0, CS2]).toEqual([3, 4]);
    expect(ELECTRICAL.pwmHz).toBeCloseTo(976.5625, 4);
    expect(data[0x44]! & 3).toBe(3);
    expect(data[0xb0]! & 3).toBe(3);
  });

  it('"Clear Timer on Compare Match Mode": the pin toggles at clock / (2·N·(1 + OCR1A))', () => {
    bench.sound({ frequencyHz: 440, onMs: 300, offMs: 0, repeats: 1 });
    bench.run(0.25);
    const CS1 = data[0x81]! & 7;
    expect(CS1).toBe(2); // /8
    expect(data[0x81]! & 0x18).toBe(0x08); // CTC
    expect(data[0x80]! & 0xc0).toBe(0x40); // toggle OC1A
    const byFormulaHz = CHIP_HZ / (2 * 8 * (1 + (data[0x88]! | (data[0x89]! << 8))));
    expect(bench.sleeve.buzzerHz).toBeCloseTo(byFormulaHz, 3);
    expect(byFormulaHz).toBeCloseTo(440, 0);
  });

  it('"Bit Rate Generator Unit": SCL at clock / (16 + 2·TWBR·4^TWPS) = 400 kHz', () => {
    expect(CHIP_HZ / (16 + 2 * data[0xb8]! * 4 ** (data[0xb9]! & 3))).toBe(400_000);
  });

  it('"ADC Multiplexer Selection Register": full scale AVCC, input the 1.1 V reference', () => {
    expect(data[0x7c]! & 0xcf).toBe(0x4e);
    // "ADC Conversion Result": 1.1 V of 5 V is 225 of 1024; of the threshold, 244.
    expect(data[0x78]! | (data[0x79]! << 8)).toBe(225);
    // "ADC characteristics", clock 50 to 200 kHz for full resolution.
    const adcHz = CHIP_HZ / 2 ** (data[0x7a]! & 7);
    expect(adcHz).toBeGreaterThanOrEqual(50_000);
    expect(adcHz).toBeLessThanOrEqual(200_000);
  });

  it('"Watchdog Timer Prescale Select": reset after 0.25 s', () => {
    const WDTCSR = data[0x60]!;
    expect(WDTCSR & 0x08).toBe(0x08);
    expect(WDTCSR & 0x27).toBe(0x04);
  });
});

describe('MPU-6050 register map, section 4', () => {
  const { registers } = bench.sleeve.accelerometer;

  it.each([
    ['SMPLRT_DIV: 1 kHz / (1 + 4) = 200 readings a second', 0x19, 0x04],
    ['CONFIG: DLPF_CFG 3, 44 Hz (gyroscope 42 Hz), sampled at 1 kHz', 0x1a, 0x03],
    ['GYRO_CONFIG: FS_SEL 1, ±500 °/s, 65.5 counts per °/s', 0x1b, 0x08],
    ['ACCEL_CONFIG: AFS_SEL 1, ±4 g, 8192 counts per g', 0x1c, 0x08],
    ['INT_PIN_CFG: active high, push-pull, 50 µs pulse', 0x37, 0x00],
    ['INT_ENABLE: DATA_RDY_EN', 0x38, 0x01],
    ['PWR_MGMT_1: awake, on the clock of the X gyroscope', 0x6b, 0x01],
    ['PWR_MGMT_2: nothing in standby', 0x6c, 0x00],
  ])('%s', (_, register, byte) => {
    expect(registers[register]).toBe(byte);
  });

  it('GYRO_XOUT_H and on: ±500 °/s handed on as 65.5 counts per °/s, right after the sample it was read with', () => {
    let turningDps: [number, number, number] = [0, 0, 0];
    const turned = new EmulatedBench({
      surroundings: {
        at: (atSec) => ({
          cells: [0, 0, 0],
          accelerometer: accelerometerAt(atSec),
          turningDps,
          buttonDown: false,
        }),
      },
    });
    turned.run(0.4);
    for (const [given, counts] of [
      [
        [1, -1, 0],
        [66, -66, 0],
      ],
      [
        [90, 0, -90],
        [5895, 0, -5895],
      ],
      [
        [499, -499, 0.1],
        [32_685, -32_685, 7],
      ],
      // Beyond its range a reading is clipped.
      [
        [700, -700, 0],
        [32_767, -32_768, 0],
      ],
    ] as [[number, number, number], number[]][]) {
      turningDps = given;
      turned.run(0.03);
      const { sequence, gyroscope } = turned.motions.at(-1)!;
      // The motion of the last sample may still be on the line.
      expect(turned.last.sequence - sequence).toBeLessThanOrEqual(1);
      // The emulated chip varies the last digit.
      gyroscope.forEach((count, axis) => {
        expect(Math.abs(count - counts[axis]!)).toBeLessThanOrEqual(1);
      });
    }
  });

  it('"Orientation of Axes": the chip lies on its back, its y towards the nipple, so its axes are the sleeve’s y, z, x', () => {
    const mounted = new EmulatedBench({
      surroundings: {
        at: () => ({
          cells: [0, 0, 0],
          accelerometer: [1000, 2000, 3000],
          turningDps: [10, 20, 30],
          buttonDown: false,
        }),
      },
    });
    mounted.run(0.4);
    const { registers } = mounted.sleeve.accelerometer;
    const word = (at: number) => ((registers[at]! << 8) | registers[at + 1]!) / 1;
    // The chip's z, out of its package, is the sleeve's x. The other axes follow, since both are right-handed: x × y = z.
    expect([0x3b, 0x3d, 0x3f].map(word)).toEqual([2000, 3000, 1000]);
    for (const [i, dps] of [20, 30, 10].entries()) expect(word(0x43 + 2 * i) / 65.5).toBeCloseTo(dps, 1);
    expect(mounted.last.accelerometer).toEqual([1000, 2000, 3000]);
  });

  it('ACCEL_XOUT_H and on: high byte first, two’s complement, handed on as 1/8192 g', () => {
    let given: [number, number, number] = [0, 0, 0];
    const still = new EmulatedBench({
      surroundings: { at: () => ({ cells: [0, 0, 0], accelerometer: given, buttonDown: false }) },
    });
    still.run(0.4);
    for (const axes of [
      [8192, 0, -8192],
      [-1, 1, 256],
      [32_767, -32_768, 255],
    ] as [number, number, number][]) {
      given = axes;
      still.run(0.03);
      expect(still.last.accelerometer).toEqual(axes);
    }
  });
});
