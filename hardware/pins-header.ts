/** The pin table as a C header for the firmware. */
import { CELLS, ELECTRICAL, PINS, type Pin, pinNamed } from './pins.ts';

const nameOf = (pin: Pin): string => `PIN_${pin.name.replace(/[^A-Z0-9]/g, '_')}`;

/** @returns text of hardware/firmware/pins.h */
export function pinsHeader(): string {
  const wired = PINS.filter((pin) => pin.direction !== 'free');
  return `/* Generated from hardware/pins.ts by "npm run gen"; do not edit. */
#ifndef EBBLINE_PINS_H
#define EBBLINE_PINS_H

/* Per pin: number for Firmata hosts, bit in its port. */
${wired.map(pinText).join('\n')}

/* Pins of the cells in the order of a sample: masks in port C (data) and port B (clock). */
#define CELL_COUNT ${CELLS.length}
#define CELL_DOUT_MASKS { ${cellMasks('DOUT')} }
#define CELL_SCK_MASKS { ${cellMasks('SCK')} }

/* Ports at the start, bit by bit: out, and high or pulled up. Free pins are pulled up, so that none floats. */
${(['B', 'C', 'D'] as const).map(portText).join('\n')}

/* Modes that a Firmata host may put each pin in, as in the capability answer: mode and bits, 0x7f after each pin. */
#define PIN_COUNT ${PINS.length}
#define PIN_CAPABILITIES { ${capabilities().join(', ')} }
#define PIN_CAPABILITIES_BYTES ${capabilities().length}

#define CHIP_CLOCK_HZ ${ELECTRICAL.chipClockHz}UL
#define LINE_BAUD ${ELECTRICAL.baud}UL
#define I2C_HZ ${ELECTRICAL.i2cHz}UL
#define ACCEL_ADDRESS 0x${ELECTRICAL.accelerometerAddress.toString(16)}
/* Which axis of the chip (0 x, 1 y, 2 z) lies along the sleeve's x, y, z. */
#define MOTION_AXES {${ELECTRICAL.motionAxes.join(', ')}}
#define SUPPLY_LOW_MILLIVOLTS ${ELECTRICAL.supplyLowMillivolts}
#define SUPPLY_MARGIN_MILLIVOLTS ${ELECTRICAL.supplyMarginMillivolts}

#endif
`;
}

const pinText = (pin: Pin): string =>
  `#define ${nameOf(pin)} ${pin.number} /* port ${pin.port}, bit ${pin.bit}: ${pin.use} */\n#define ${nameOf(pin)}_BIT ${pin.bit}`;

const cellMasks = (signal: 'DOUT' | 'SCK'): string =>
  CELLS.map((cell) => hexByte(1 << pinNamed(`${cell.toUpperCase()}_${signal}`).bit)).join(', ');

function portText(port: Pin['port']): string {
  const maskOf = (wanted: (pin: Pin) => boolean): string =>
    hexByte(
      PINS.filter((pin) => pin.port === port && wanted(pin)).reduce((sum, pin) => sum | (1 << pin.bit), 0),
    );
  const out = maskOf((pin) => pin.direction === 'out');
  const high = maskOf(
    (pin) =>
      pin.direction === 'in-pullup' ||
      pin.direction === 'free' ||
      (pin.direction === 'out' && pin.idle === 'high'),
  );
  return `#define PORT_${port}_OUT ${out}\n#define PORT_${port}_HIGH ${high}`;
}

const capabilities = (): string[] =>
  PINS.flatMap((pin) => [...pin.firmata.flatMap(({ mode, bits }) => [mode, bits]), 0x7f]).map(hexByte);

const hexByte = (byte: number): string => `0x${byte.toString(16).padStart(2, '0')}`;
