/** Steps of the checklist that come once for each cell, pose or axis. */
import { radFromDeg } from '../../src/base/units.ts';
import { cellNoise, gramsPerCount } from '../budgets/resolution.ts';
import type { CellName, CheckStep } from './checklist-types.ts';

const countsPerGram = 1 / gramsPerCount();
/** Twice the noise that the converter's datasheet promises: room for the building's shaking. */
const noiseLimitCounts = Math.round(2 * cellNoise().counts);
const NOISE_SOURCE =
  'resolution budget: 90 nV rms at gain 128 and 80 readings a second (HX711 datasheet) with the bridge’s own noise, doubled for a table that is never quite still';
export const noise = (cell: CellName): CheckStep => ({
  id: `noise-${cell}`,
  kind: 'noise',
  cell,
  title: `Noise at rest, ${cell} cell`,
  doThis: 'Stand the sleeve upright on a firm table, with an empty bottle in it, and keep your hands off.',
  seconds: 10,
  limits: [
    {
      what: 'noise, rms about a straight line',
      unit: 'counts',
      greatest: noiseLimitCounts,
      source: NOISE_SOURCE,
    },
  ],
  ifItFails:
    'Look for a fan, a phone or a charger nearby, a loose wire, a missing capacitor at the converter, or a booster that ripples.',
});
const PRESSES: Record<CellName, string> = {
  axial:
    'Stand the sleeve upright with the bottle in it. Press the bottle straight down with one finger, about as hard as a doorbell, then let go.',
  front:
    'Lay the sleeve level, grip underneath. Press the bottle down close in front of the sleeve, then let go.',
  rear: 'Lay the sleeve level, grip underneath. Take the bottle out. Press the floor of the inner cup’s rear end down with the handle of a wooden spoon, then let go.',
};
export const press = (cell: CellName): CheckStep => ({
  id: `press-${cell}`,
  kind: 'press',
  cell,
  title: `Press the ${cell} cell`,
  doThis: `${PRESSES[cell]} Wait two seconds before and after.`,
  seconds: 10,
  limits: [
    {
      what: 'rise of the pressed cell',
      unit: 'counts',
      least: Math.round(100 * countsPerGram),
      source:
        '100 g by the resolution budget: a finger does that easily; counts must rise, else S+ and S− are swapped',
    },
    {
      what: 'largest change of another cell, share of it',
      unit: '%',
      greatest: 60,
      source:
        'a wrongly connected cell gives more than 100 %; pressing by finger tilts the load a little. Our own limit',
    },
    {
      what: 'change left after letting go',
      unit: 'counts',
      greatest: Math.round(1 * countsPerGram),
      source:
        '1 g by the resolution budget: more means that cup and shell touch or a wire slips. Our own limit',
    },
  ],
  ifItFails:
    'Look for milk, cloth or a cell lead between cup and shell, a strut that slips in its clamp, a swapped plug, or a stop pin that touches.',
});
const s = Math.sin(radFromDeg(90));
export const POSES: readonly {
  id: string;
  title: string;
  doThis: string;
  expected: readonly [number, number, number];
}[] = [
  {
    id: 'upright',
    title: 'upright',
    doThis: 'Stand the sleeve upright, nipple end up.',
    expected: [0, 0, s],
  },
  {
    id: 'nipple-down',
    title: 'nipple end down',
    doThis: 'Stand the sleeve on its head, empty, nipple end down.',
    expected: [0, 0, -s],
  },
  {
    id: 'grip-under',
    title: 'level, grip underneath',
    doThis: 'Hold the sleeve level against the edge of the table, grip underneath.',
    expected: [s, 0, 0],
  },
  {
    id: 'grip-up',
    title: 'level, grip on top',
    doThis: 'Lay the sleeve on its window, grip on top. Put a cloth under it.',
    expected: [-s, 0, 0],
  },
  {
    id: 'on-left',
    title: 'on its left side',
    doThis: 'Seen from behind: lay the sleeve on its left side, level.',
    expected: [0, s, 0],
  },
  {
    id: 'on-right',
    title: 'on its right side',
    doThis: 'Seen from behind: lay the sleeve on its right side, level.',
    expected: [0, -s, 0],
  },
];
export const pose = ({ id, title, doThis, expected }: (typeof POSES)[number]): CheckStep => ({
  id: `tilt-${id}`,
  kind: 'pose',
  expected,
  title: `Tilt, ${title}`,
  doThis: `${doThis} Keep it still.`,
  seconds: 3,
  limits: [
    {
      what: 'angle to the expected direction',
      unit: '°',
      greatest: 10,
      source:
        'a wrong axis or sign is off by 90° or more; zero offset of an uncalibrated accelerometer (80 mg, 5°; from memory) and 5° of hand. Our own limit',
    },
    {
      what: 'size of gravity',
      unit: 'g',
      least: 0.9,
      greatest: 1.1,
      source: '1 g, with the same offset. Our own limit',
    },
    {
      what: 'scatter while still',
      unit: 'g',
      greatest: 0.03,
      source: 'more is a hand that moves. Our own limit',
    },
  ],
  ifItFails:
    'Check how the accelerometer sits (step 12 of the build guide), its supply and its two bus wires.',
});
/** The gyroscope against the accelerometer: what gravity's direction turns by in the sleeve is what the sleeve turned by. */
export const turn = (about: 'y' | 'z', title: string, doThis: string): CheckStep => ({
  id: `turn-${about}`,
  kind: 'turn',
  about,
  title: `Turning, ${title}`,
  doThis: `${doThis} Take two seconds for each way, as at a feed, and begin after holding still for a second.`,
  seconds: 8,
  limits: [
    {
      what: 'turned, by the accelerometer',
      unit: '°',
      least: 40,
      source: 'less does not tell a scale from a hand. Our own limit',
    },
    {
      what: 'turned by the gyroscope, over that',
      unit: '',
      least: 0.85,
      greatest: 1.15,
      source:
        'a wrong range is off by a factor of 2, a wrong sign gives −1, a wrong axis 0; scale within 3 % (product specification, from memory), and the accelerometer feels the hand as well. Our own limit',
    },
    {
      what: 'turning about the other axes, share of it',
      unit: '%',
      greatest: 60,
      source: 'swapped axes give far more than 100 %; no hand turns about one axis alone. Our own limit',
    },
    {
      what: 'shown at rest, largest axis',
      unit: '°/s',
      greatest: 20,
      source: 'zero-rate output ±20 °/s (product specification, from memory)',
    },
  ],
  ifItFails:
    'No readings: the chip has no gyroscope or is another one than the parts list names; the sleeve works without, so go on, and turning stays noise. Wrong sign or axis: the board lies another way than step 12 of the build guide says.',
});
export const kitchen = (
  id: string,
  title: string,
  waterDegC: number,
  waterGramsPerMl: number,
): CheckStep => ({
  id: `kitchen-${id}`,
  kind: 'kitchen',
  waterDegC,
  waterGramsPerMl,
  title: `Kitchen check, ${title}`,
  doThis: `Fill the bottle with about 100 mL of water at ${waterDegC} °C. Put an empty cup on a kitchen scale and set it to zero. Hold the sleeve level and still for 5 s. Draw 30 mL through the nipple with a syringe, squirt it into the cup, hold the sleeve level and still for 5 s. Type in what the scale shows.`,
  seconds: 0,
  limits: [
    {
      what: 'difference between sleeve and scale',
      unit: 'mL',
      least: -2,
      greatest: 2,
      source:
        'goal of this project; water weighs 0.998 g/mL at 20 °C and 0.992 g/mL at 40 °C (usual tables, from memory)',
    },
  ],
  ifItFails:
    'Calibrate again. If only the warm check fails, warmth drifts the cells: let the bottle sit in the sleeve for five minutes and repeat. If it still fails, do not use this sleeve to time feeds.',
});
