/** Bought parts of the sleeve and of the bench, as data: generic types, no shops. */
import { CELL_DATA, CONVERTER_DATA } from './budgets/cells.ts';
import { BATTERY } from './budgets/power.ts';
import { CELL, CLAMP, MOTION_BOARD, SEAT, WIRE } from './design.ts';
import { ELECTRICAL } from './pins.ts';

export interface PartLine {
  readonly part: string;
  readonly rating: string;
  readonly quantity: number;
  readonly alternatives: string;
  readonly mustMeet: string;
  /** All of this line together, in the sleeve; 0 for what stays on the bench. */
  readonly massGrams: number;
  /** Not in every sleeve: left out of its mass. */
  readonly option?: true;
}

/** Bought parts. Masses are usual ones, from memory: weigh yours. */
export const BOUGHT: readonly PartLine[] = [
  {
    part: 'load cell, straight bar, full bridge',
    rating: `${CELL_DATA.ratedGrams} g; ${CELL.lengthMm} × ${CELL.widthMm} × ${CELL.thicknessMm} mm; ${CELL_DATA.ratedOutputMvPerV} mV/V; ${CONVERTER_DATA.bridgeOhms} Ω`,
    quantity: 3,
    alternatives:
      '750 g bar of the same size: finer, but its seat must give way at 7 N, which the mouth may reach',
    mustMeet: `deflection at rated load at most ${CELL_DATA.deflectionAtRatedMm} mm (measure it); safe overload at least ${CELL_DATA.safeOverload * 100} %; zero drift at most ${CELL_DATA.zeroDriftPer10K * 100} % of rated output per 10 K`,
    massGrams: 22.4,
  },
  {
    part: '24-bit bridge converter, HX711-class',
    rating: `gain ${ELECTRICAL.converterGain}; 80 readings a second (RATE high); clock input XI free`,
    quantity: 3,
    alternatives: 'ready-made module whose XI and RATE pins can be reached',
    mustMeet: `${CONVERTER_DATA.inputNoiseNvRms} nV rms or less at gain 128 and 80 readings a second; analog supply ${CONVERTER_DATA.excitationV} V from its own regulator`,
    massGrams: 3,
  },
  {
    part: 'clock oscillator',
    rating: `${ELECTRICAL.converterClockHz / 1e6} MHz, 5 V`,
    quantity: 1,
    alternatives: 'crystal oscillator of the same frequency with a buffer',
    mustMeet: 'within 100 ppm; one output to all three XI, 20 pF in series each',
    massGrams: 0.4,
  },
  {
    part: 'accelerometer with gyroscope, I²C and interrupt output, on its own board',
    rating: `±4 g at 8192 counts per g; ±500 °/s at 65.5 counts per °/s; 400 kHz; address 0x68; at most ${MOTION_BOARD.acrossMm} × ${MOTION_BOARD.alongMm} × ${MOTION_BOARD.thicknessMm} mm`,
    quantity: 1,
    alternatives:
      'accelerometer alone of the same register map: the sleeve then sends no MOTION, and turning is noise; a module of 21 × 16 mm: take 1 mm off an edge that has no tracks',
    mustMeet:
      'register map named in the firmware; WHO_AM_I 0x68, else its gyroscope is not used; chip within 2 mm of the board’s middle; no pin header; level shifter if it runs on 3.3 V',
    massGrams: 1.5,
  },
  {
    part: 'ATmega328P board',
    rating: '16 MHz, 5 V, six-pin serial header, no USB on board',
    quantity: 1,
    alternatives: 'bare chip with 16 MHz resonator on the carrier board',
    mustMeet: 'brown-out fuse at 4.3 V; standard 328P serial bootloader; at most 18 × 34 mm',
    massGrams: 2.5,
  },
  {
    part: 'serial radio bridge',
    rating: '115200 baud, 8N1; shows up as a serial port on the host',
    quantity: 1,
    alternatives: 'pair of transparent serial radio modules, one on a USB stick at the host',
    mustMeet:
      'no byte lost or changed at 5 kB/s for 30 minutes at 5 m; delay under 50 ms; short-range radio approved for consumer use; mean at most 45 mA; antenna behind the bottle, away from the nipple',
    massGrams: 3,
  },
  {
    part: 'lithium-ion pouch cell with protection board and plug',
    rating: `${BATTERY.nominalV} V, ${BATTERY.capacityMah} mAh, about 5 × 20 × 40 mm`,
    quantity: 1,
    alternatives: 'smaller pouch: shorter life; no coin cells',
    mustMeet:
      'protection against overcharge, deep discharge and short circuit; keyed plug; test report of its maker (IEC 62133-2; from memory)',
    massGrams: 8.5,
  },
  {
    part: 'boost converter',
    rating: '5.0 V, 200 mA from 3.0 to 4.2 V',
    quantity: 1,
    alternatives: 'regulated charge pump',
    mustMeet: 'within 2 % of 5.0 V; ripple under 20 mV; real off through the slide switch',
    massGrams: 1.5,
  },
  {
    part: 'light: three-color LED',
    rating: 'common cathode, 5 mm, diffused',
    quantity: 1,
    alternatives: 'three single LEDs',
    mustMeet: 'not dazzling: a few millicandela at the set duty',
    massGrams: 0.4,
  },
  {
    part: 'resistor',
    rating: '680 Ω, 1/8 W',
    quantity: 3,
    alternatives: '470 Ω to 1 kΩ, matched by eye',
    mustMeet: 'one for each color',
    massGrams: 0.1,
  },
  {
    part: 'resistor',
    rating: '220 Ω, 1/8 W',
    quantity: 1,
    alternatives: '',
    mustMeet: 'in series with the buzzer',
    massGrams: 0.05,
  },
  {
    part: 'resistor',
    rating: '10 kΩ, 1/8 W',
    quantity: 3,
    alternatives: '',
    mustMeet: 'pull-down on each converter clock',
    massGrams: 0.1,
  },
  {
    part: 'resistor',
    rating: '2.2 kΩ, 1/8 W',
    quantity: 2,
    alternatives: '',
    mustMeet: 'pull-up of SDA and SCL to the accelerometer’s supply',
    massGrams: 0.1,
  },
  {
    part: 'level shifter, two-way',
    rating: '5 V to 3.3 V, 400 kHz I²C',
    quantity: 1,
    alternatives: 'accelerometer module with its own',
    mustMeet: 'also for the line from TX to the radio bridge if that takes 3.3 V only',
    massGrams: 0.5,
  },
  {
    part: 'capacitors',
    rating: '20 pF × 3, 100 nF × 8, 10 µF × 4',
    quantity: 1,
    alternatives: '',
    mustMeet: 'as drawn; ceramic',
    massGrams: 0.4,
  },
  {
    part: 'buzzer, passive',
    rating: 'Ø 12 mm, 5 V',
    quantity: 1,
    alternatives: 'piezo disc',
    mustMeet: 'heard at arm’s length, not loud at the baby’s ear: opening points away',
    massGrams: 1.5,
  },
  {
    part: 'vibration motor, option',
    rating: 'Ø 10 mm disc, 5 V, under 100 mA',
    quantity: 1,
    alternatives: 'none: the buzzer stays',
    mustMeet:
      'felt in the grip; with N-channel transistor, diode and 10 kΩ; shut in, nothing that turns can be touched',
    massGrams: 1.5,
    option: true,
  },
  {
    part: 'push button',
    rating: '6 × 6 mm, cap Ø 6.5 mm',
    quantity: 1,
    alternatives: '',
    mustMeet: 'cap cannot be pulled off',
    massGrams: 0.5,
  },
  {
    part: 'slide switch',
    rating: '1 pole, 0.5 A',
    quantity: 1,
    alternatives: '',
    mustMeet: 'recessed',
    massGrams: 0.6,
  },
  {
    part: 'carrier board',
    rating: '20 × 24 mm, perforated or etched',
    quantity: 1,
    alternatives: '',
    mustMeet: 'holds converters, oscillator, button and light',
    massGrams: 2,
  },
  {
    part: 'music wire',
    rating: `Ø ${WIRE.strutDiameterMm} mm and Ø ${WIRE.linkDiameterMm} mm`,
    quantity: 1,
    alternatives: 'spring steel wire',
    mustMeet: 'straight; ends roughened for the glue',
    massGrams: 0.3,
  },
  {
    part: 'clamp for a strut',
    rating: `M3 × 12 cap screw of aluminum, drilled through Ø ${CLAMP.boreDiameterMm} mm, with thin nut; M1.6 × 3 set screw across its head`,
    quantity: 3,
    alternatives: 'of brass: 0.8 g heavier each; a vented M3 screw, which is drilled already',
    mustMeet:
      'head on the far face of the cell, nut on the near one, hand-tight; the set screw holds the wire; the wire touches the bore nowhere',
    massGrams: 2,
  },
  {
    part: 'stop pin, hardened dowel',
    rating: 'Ø 3 × 34 mm',
    quantity: 2,
    alternatives: 'drill rod',
    mustMeet: 'straight and smooth; glued in both bosses: it holds the walls of the grip apart',
    massGrams: 3.8,
  },
  {
    part: 'spacer on a stop pin',
    rating: 'nylon tube Ø 5 × 3.1 mm, 6.7 mm long',
    quantity: 4,
    alternatives: 'M3 spacer cut to length',
    mustMeet: 'leaves 0.3 mm beside the foot (feeler leaf)',
    massGrams: 0.4,
  },
  {
    part: 'screw for a cell’s fixed end',
    rating: 'M2.5 × 14, low head, with a drop of thread lock; nut for the axial cell',
    quantity: 6,
    alternatives: 'M2.5 × 16 cut to length',
    mustMeet: `the front and rear cells tapped M2.5 (or nut), the axial one drilled Ø ${SEAT.holeDiameterMm} mm; turned to the spring’s set length, never tighter`,
    massGrams: 3.2,
  },
  {
    part: 'spring under a cell’s screw',
    rating: `compression spring, wire Ø ${SEAT.wireDiameterMm} mm, coil Ø ${SEAT.coilDiameterMm} mm, ${SEAT.activeTurns} active turns, 5.5 mm long, ends ground`,
    quantity: 6,
    alternatives: 'any of 33 to 38 N/mm that fits: set length = free length − 38 N ÷ rate',
    mustMeet: `${SEAT.preloadN} N at ${SEAT.setLengthMm} mm, six of one batch; weigh one on a kitchen scale: 3.9 kg at the set length`,
    massGrams: 1.6,
  },
  {
    part: 'screws for cover and cap',
    rating: '2.2 × 6 mm self-tapping',
    quantity: 5,
    alternatives: 'M2 with inserts',
    mustMeet: '',
    massGrams: 1,
  },
  {
    part: 'captive screw of the battery door',
    rating: 'M2.5 × 8, with retaining ring and insert',
    quantity: 1,
    alternatives: '',
    mustMeet: 'stays in the door when undone; needs a tool',
    massGrams: 0.7,
  },
  {
    part: 'wire',
    rating: '0.05 mm² stranded, silicone',
    quantity: 1,
    alternatives: '',
    mustMeet: 'cell leads fixed to the shell, slack, never to the cup',
    massGrams: 3.5,
  },
  {
    part: 'glue',
    rating: 'two-part epoxy',
    quantity: 1,
    alternatives: '',
    mustMeet: 'holds wire in plastic; away from milk',
    massGrams: 1,
  },
  {
    part: 'USB-to-serial adapter',
    rating: '5 V levels, DTR for the bootloader',
    quantity: 1,
    alternatives: '',
    mustMeet: 'bench only: never in the sleeve',
    massGrams: 0,
  },
  {
    part: 'USB isolator',
    rating: 'full speed, reinforced insulation',
    quantity: 1,
    alternatives: 'laptop running on its battery, charger unplugged',
    mustMeet: 'bench only: between a host on mains and anything a person holds',
    massGrams: 0,
  },
  {
    part: 'charger for one lithium-ion cell',
    rating: `${BATTERY.nominalV} V, 200 mA, 4.20 V`,
    quantity: 1,
    alternatives: '',
    mustMeet: 'bench only: the pouch is charged outside the sleeve',
    massGrams: 0,
  },
  {
    part: 'bench weights',
    rating: '100 g, 200 g, 500 g',
    quantity: 1,
    alternatives: 'water weighed on a kitchen scale',
    mustMeet: 'known within 0.1 g',
    massGrams: 0,
  },
  {
    part: 'syringe',
    rating: '30 mL or more',
    quantity: 1,
    alternatives: '',
    mustMeet: 'bench only: kitchen check',
    massGrams: 0,
  },
];
