/** Wires, clamps, stops, screws and glue, as data. */
import type { PartLine } from './bought-parts.ts';
import { CLAMP, SEAT, WIRE } from './design.ts';

export const MECHANICAL_PARTS: readonly PartLine[] = [
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
];
