/** What stays on the bench or beside the sleeve, as data. */
import type { PartLine } from './bought-parts.ts';

export const BENCH_PARTS: readonly PartLine[] = [
  {
    part: 'USB-to-serial adapter',
    rating: 'levels of 5 V and, by a jumper, of 3.3 V',
    quantity: 1,
    alternatives: '',
    mustMeet: 'bench only: never in the sleeve; at 3.3 V for the radio board alone, else at 5 V',
    massGrams: 0,
  },
  {
    part: 'in-system programmer for ATmega chips',
    rating: '5 V, six pins',
    quantity: 1,
    alternatives: 'another ATmega board with a programmer’s program on it',
    mustMeet: 'bench only: writes program, fuses and EEPROM',
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
    part: 'charging stand',
    rating: 'two spring pins, 1 A, in a printed cradle; 5 V supply of 0.5 A with a safety mark',
    quantity: 1,
    alternatives: 'the same pins on a clip',
    mustMeet: 'stays where the baby is not; the pins wear, not the sleeve: renew them there',
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
