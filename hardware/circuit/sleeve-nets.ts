/** The sleeve's nets. What the chip's pins are called stands in the pin table; a test holds the two together. */

import type { ConverterName } from './converters.ts';
import { CIRCUIT_PARTS } from './sleeve-parts.ts';
import type { Circuit, Net } from './types.ts';

const net = (name: string, pins: string, more: Partial<Net> = {}): Net => ({
  name,
  pins: pins.trim().split(/\s+/),
  ...more,
});

const EACH: readonly ConverterName[] = ['A', 'F', 'R'];
const of = (pattern: string) => EACH.map((c) => pattern.replaceAll('#', c)).join(' ');

/** Pins of the chip for each converter: clock and data. */
const CHIP_PINS: Readonly<Record<ConverterName, readonly [sck: string, dout: string]>> = {
  A: ['D10', 'A0'],
  F: ['D11', 'A1'],
  R: ['D12', 'A2'],
};
/** The programmer shares two of the clocks: its plug is off while the sleeve works. */
const PROGRAMMER: Readonly<Record<ConverterName, string>> = { A: '', F: 'J2.MOSI', R: 'J2.MISO' };

const converterNets = (c: ConverterName): Net[] => [
  net(`AVDD_${c}`, `Q${c}.C U${c}.AVDD R${c}1.1 C${c}1.1 C${c}2.1 B${c}.E+`, { volts: [4.2, 4.4] }),
  net(`BASE_${c}`, `Q${c}.B U${c}.BASE`),
  net(`VFB_${c}`, `R${c}1.2 R${c}2.1 U${c}.VFB`),
  net(`VBG_${c}`, `U${c}.VBG C${c}3.1`),
  net(`S+_${c}`, `B${c}.S+ R${c}3.1`),
  net(`S-_${c}`, `B${c}.S- R${c}4.1`),
  net(`INA+_${c}`, `R${c}3.2 C${c}4.1 U${c}.INA+`),
  net(`INA-_${c}`, `R${c}4.2 C${c}4.2 U${c}.INA-`),
  net(`SCK_${c}`, `U1.${CHIP_PINS[c][0]} U${c}.PD_SCK R${c}5.1 ${PROGRAMMER[c]}`),
  net(`DOUT_${c}`, `U${c}.DOUT U1.${CHIP_PINS[c][1]}`),
  net(`XI_${c}`, `C${c}7.2 U${c}.XI`),
];

const nets: readonly Net[] = [
  net(
    'GND',
    `U1.GND Y1.GND BT1.- U5.GND U6.GND J3.- U7.GND Q1.S U8.GND U8.AD0 U9.GND U10.GND J2.GND
    C1.2 C2.2 C3.2 C4.2 C5.2 C6.2 C7.2 C8.2 C9.2 C10.2 C11.2 C12.2 C13.2 C14.2 C15.2 C16.2
    R5.2 R7.2 S2.2 LED1.K BZ1.2 D2.A
    ${of('U#.AGND R#2.2 R#5.2 C#1.2 C#2.2 C#3.2 C#5.2 C#6.2 B#.E- U#.INB+ U#.INB-')}`,
  ),
  net('CELL', 'BT1.+ J1.1', { volts: [3.0, 4.2] }),
  net('CELL2', 'J1.2 S1.1 U7.BAT C11.1', { volts: [3.0, 4.2] }),
  net('CELL_SW', 'S1.2 U5.IN C6.1 R4.1 R2.1', { volts: [3.0, 4.2] }),
  net(
    '5V',
    `U5.OUT C7.1 U1.VCC C1.1 C2.1 R1.1 J2.VCC Y1.VDD C5.1 U6.IN C8.1 U9.HV C13.1 R8.1 R9.1 R12.1 R14.1 R16.1
    ${of('U#.VSUP Q#.E U#.DVDD U#.RATE C#5.1 C#6.1')}`,
    { volts: [4.9, 5.1] },
  ),
  net('3V3', 'U6.OUT C9.1 U8.VDD C12.1 U9.LV C14.1 R10.1 R11.1 R13.1 R15.1 Q2.G U10.VCC C15.1 C16.1', {
    volts: [3.2, 3.4],
  }),
  net('PAD', 'J3.+ D1.A R6.1', { volts: [4.75, 5.25] }),
  net('CHG', 'D1.K U7.VIN C10.1', { volts: [4.4, 4.9] }),
  net('PROG', 'U7.PROG R5.1'),
  net('LOCK', 'R6.2 R7.1 Q1.G'),
  net('BOOST_EN', 'U5.EN R4.2 Q1.D'),
  net('A3_CELL', 'R2.2 C4.1 U1.A3'),
  net('AREF', 'U1.AREF C3.1'),
  net('RESET', 'U1.RESET R1.2 J2.RESET'),
  net('SCK_ISP', 'U1.D13 J2.SCK'),
  net('CLOCK', 'Y1.OUT R3.1'),
  net('CLOCK_D', `R3.2 U1.XTAL1 ${of('C#7.1')}`, { wireCm: 12 }),
  ...EACH.flatMap(converterNets),
  net('SDA_5', 'U1.A4 U9.HV1 R8.2', { bus: 'i2c', wireCm: 6 }),
  net('SCL_5', 'U1.A5 U9.HV2 R9.2', { bus: 'i2c', wireCm: 6 }),
  net('SDA_3', 'U8.SDA U9.LV1 R10.2', { bus: 'i2c', wireCm: 10 }),
  net('SCL_3', 'U8.SCL U9.LV2 R11.2', { bus: 'i2c', wireCm: 10 }),
  net('TX_5', 'U1.D1/TX U9.HV3 R12.2'),
  net('TX_3', 'U10.RXD U9.LV3 R13.2'),
  net('RX_5', 'U1.D0/RX U9.HV4 R14.2'),
  net('RX_3', 'U10.TXD U9.LV4 R15.2'),
  net('INT_3', 'U8.INT Q2.S'),
  net('INT', 'Q2.D R16.2 U1.D2'),
  net('RED', 'U1.D3 R17.1'),
  net('GREEN', 'U1.D5 R18.1'),
  net('BLUE', 'U1.D6 R19.1'),
  net('RED_L', 'R17.2 LED1.R'),
  net('GREEN_L', 'R18.2 LED1.G'),
  net('BLUE_L', 'R19.2 LED1.B'),
  net('BUTTON', 'U1.D4 S2.1'),
  net('BUZZ', 'U1.D9 R20.1'),
  net('BUZZ_L', 'R20.2 BZ1.1 D2.K'),
];

export const SLEEVE_CIRCUIT: Circuit = { parts: CIRCUIT_PARTS, nets };
