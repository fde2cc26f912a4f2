/**
 * Bring-up checklist of a sleeve, as data: `ebbline sleeve check` walks through it, and the build guide prints it.
 * Each limit names its source; what is judged and how stands in check-steps.ts.
 */
import type { CheckStep } from './checklist-types.ts';
import { kitchen, noise, POSES, pose, press, turn } from './repeated-steps.ts';
import { BRING_UP } from './steps.ts';

export type { CellName, CheckStep, Limit } from './checklist-types.ts';

export const CHECKLIST: readonly CheckStep[] = [
  {
    id: 'supply',
    kind: 'supply',
    title: 'Supply',
    doThis: 'Switch the sleeve on with a charged battery. Nothing else to do.',
    seconds: 5,
    limits: [
      {
        what: 'samples with "supply low"',
        unit: '',
        greatest: 0,
        source: 'pin table: the chip flags less than 4.6 V; power budget: 5.0 V when charged',
      },
    ],
    ifItFails:
      'Charge the battery on its stand. With a charged battery: measure the booster, 5.0 V. If that is right, the chip’s own reference is off (it may be 1.0 to 1.2 V; ATmega328P datasheet, from memory): trim it, two bytes of its EEPROM (“Flashing” in the build guide).',
  },
  {
    id: 'sample-rate',
    kind: 'rate',
    title: 'Sample rate',
    doThis: 'Leave the sleeve where it is.',
    seconds: 10,
    limits: [
      {
        what: 'samples a second',
        unit: '/s',
        least: 79.2,
        greatest: 80.8,
        source: 'pin table: 11.0592 MHz / 138240 = 80; ±1 % for the clock of the chip that times them',
      },
    ],
    ifItFails: '10 a second: RATE is not tied to 5 V. Not steady: XI does not see the oscillator.',
  },
  {
    id: 'lost-samples',
    kind: 'lost',
    title: 'Lost samples',
    doThis:
      'Carry the sleeve to where feeds will be, as far from the host as it will be then, and put it down.',
    seconds: 30,
    limits: [
      {
        what: 'samples lost',
        unit: '',
        greatest: 0,
        source: 'sleeve contract, section 2: sequence numbers without a gap',
      },
    ],
    ifItFails:
      'Move the host nearer. If it stays: the radio bridge is too slow or drops bytes; see the parts list for what it must meet.',
  },
  {
    id: 'shared-clock',
    kind: 'together',
    title: 'One clock for all converters',
    doThis: 'Leave the sleeve alone.',
    seconds: 10,
    limits: [
      {
        what: 'samples with all three cells',
        unit: '%',
        least: 99.9,
        source:
          'sleeve contract, section 2: one clock, skew at most 1 ms; with a clock of its own in each converter only some 1 % of samples have all three (measured on the emulated chip)',
      },
    ],
    ifItFails:
      'The cells change places in being late: the oscillator does not reach XI of all three converters, or one still runs on the clock of its own board. One oscillator must feed all three; on a module cut the wire from XI to ground first. Always the same cell: see the next step.',
  },
  {
    id: 'faults',
    kind: 'faults',
    title: 'Fault flags',
    doThis: 'Leave the sleeve alone.',
    seconds: 5,
    limits: [
      {
        what: 'samples with a fault flag',
        unit: '',
        greatest: 0,
        source: 'sleeve contract, section 2: flags of cells and accelerometer',
      },
    ],
    ifItFails: 'The flag names the part: check its plug and its solder joints.',
  },
  noise('axial'),
  noise('front'),
  noise('rear'),
  press('axial'),
  press('front'),
  press('rear'),
  ...POSES.map(pose),
  turn(
    'y',
    'nipple down and up',
    'Hold the sleeve level in front of you, grip underneath, bottle in. Lower the nipple until it points steeply down, bring it back to level, and again.',
  ),
  turn(
    'z',
    'rolled to both sides',
    'Hold the sleeve level in front of you, grip underneath, bottle in. Roll it about the bottle’s length, window to the left, back, window to the right, and back.',
  ),
  {
    id: 'light',
    kind: 'look',
    show: 'light',
    title: 'Light',
    doThis:
      'Look at the light from behind, where the caregiver’s eyes will be: three colors, two seconds each.',
    question: 'Did it show red, then green, then blue?',
    seconds: 0,
    limits: [],
    ifItFails:
      'Another order: the wires of two colors are swapped at D3, D5 or D6. A color missing: check its resistor and wire.',
  },
  {
    id: 'light-hidden',
    kind: 'look',
    show: 'white',
    title: 'Light, seen by the baby',
    doThis:
      'Hold the sleeve as at a feed and look from the nipple end, where the baby’s eyes are. It is lit now.',
    question: 'Is the light itself out of sight from there?',
    seconds: 0,
    limits: [],
    ifItFails: 'Check the disc in front of the light, and that end cap and cover are closed.',
  },
  {
    id: 'buzzer',
    kind: 'look',
    show: 'buzzer',
    title: 'Buzzer',
    doThis: 'Listen at arm’s length.',
    question: 'Did it sound once, clear but not loud?',
    seconds: 0,
    limits: [],
    ifItFails: 'Check the buzzer’s wire; it must be a passive one. Too loud: raise its resistor.',
  },
  {
    id: 'button',
    kind: 'button',
    title: 'Button',
    doThis: 'Press the button twice, a second apart, with the thumb of the hand that holds the sleeve.',
    seconds: 8,
    limits: [
      {
        what: 'presses seen',
        unit: '',
        least: 2,
        greatest: 2,
        source: 'what was asked for; more means that it bounces',
      },
    ],
    ifItFails: 'Check the button’s wire to ground.',
  },
  ...BRING_UP,
  kitchen('cold', 'cold water', 20, 0.998),
  kitchen('warm', 'warm water', 40, 0.992),
];
