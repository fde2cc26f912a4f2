/** The steps of the checklist that measure how good a built sleeve is: noise, drift, creep, delay, stops, warmth. Data; measured in measures.ts. */
import { CELL_DATA } from '../budgets/cells.ts';
import type { CellName, CheckStep, Limit } from './checklist-types.ts';

const CELLS: readonly CellName[] = ['axial', 'front', 'rear'];
const TEN_MINUTES_SEC = 600;

/** One limit for each cell, in the order of the sample. */
const ofEach = (limit: Limit, cells: readonly CellName[] = CELLS): Limit[] =>
  cells.map((cell) => ({ ...limit, what: `${limit.what}, ${cell} cell` }));

/** As the simulation assumes of a cell (src/simulation/defaults.ts): Allan deviation at 1 s and at 60 s, and spread of the change in ten minutes, g. */
export const ASSUMED = { at1SecGrams: 0.038, at60SecGrams: 0.07, tenMinutesGrams: 0.37 } as const;
const thrice = (grams: number): number => Math.round(300 * grams) / 100;
const THREE_TIMES = 'three times what the simulation of this project assumes; own choice, no source';

const longRest: CheckStep = {
  id: 'long-rest',
  kind: 'long-rest',
  title: 'Noise and drift over ten minutes',
  doThis:
    'Stand the sleeve upright on a firm table, an empty bottle in it, out of the sun and of drafts. Let it be switched on for half an hour and untouched for ten minutes first: cells creep back after a press. Walk away while it measures.',
  seconds: TEN_MINUTES_SEC,
  limits: [
    ...ofEach({
      what: 'noise by seconds (Allan deviation at 1 s)',
      unit: 'g',
      greatest: thrice(ASSUMED.at1SecGrams),
      source: THREE_TIMES,
    }),
    ...ofEach({
      what: 'noise by minutes (Allan deviation at 60 s)',
      unit: 'g',
      greatest: thrice(ASSUMED.at60SecGrams),
      source: THREE_TIMES,
    }),
    ...ofEach({
      what: 'drift of the zero, last minute less first',
      unit: 'g',
      least: -thrice(ASSUMED.tenMinutesGrams),
      greatest: thrice(ASSUMED.tenMinutesGrams),
      source: THREE_TIMES,
    }),
  ],
  ifItFails:
    'By seconds: a loose wire, a missing capacitor at the converter, a booster that ripples, a charger nearby. By minutes or drift: the sleeve was not warm yet, sun or a draft; else a cell whose glue creeps or a strut that slips in its clamp. One cell alone: change that cell.',
};

/** A bottle with water that a kitchen scale shows to be this heavy. */
const CREEP_MASS_GRAMS = 450;
const CREEP_LIMIT: Limit = {
  what: 'creep, share of its load',
  unit: '%',
  least: -0.6,
  greatest: 0.6,
  source: `bar cells are sold with ${100 * CELL_DATA.creep} % in 20 minutes (typical, from memory); the drift that a good cell may show meanwhile is 0.2 % of this load; twice both and more, own choice, no source`,
};
const creep = (
  id: string,
  title: string,
  where: string,
  cells: readonly CellName[],
  about: readonly [number, number],
): CheckStep => ({
  id: `creep-${id}`,
  kind: 'creep',
  cells,
  massGrams: CREEP_MASS_GRAMS,
  title: `Creep, ${title}`,
  doThis: `On a kitchen scale fill a bottle with water until both weigh ${CREEP_MASS_GRAMS} g, and close it. ${where} Press Enter, wait ten seconds, put the bottle in, and touch nothing from then on.`,
  seconds: TEN_MINUTES_SEC + 30,
  limits: [
    ...ofEach(CREEP_LIMIT, cells),
    {
      what: 'the mass, as these cells show it',
      unit: 'g',
      least: about[0],
      greatest: about[1],
      source: `${CREEP_MASS_GRAMS} g on the scale, within 15 %: before it is calibrated a cell’s output is no better known (typical, from memory)`,
    },
  ],
  ifItFails:
    'Not steady: the glue or the seat of that cell gives way, a strut slips in its clamp, a screw is not tight, or cup and shell touch. Tighten, and repeat; if it stays, change the cell. The mass wrong by much: something else carries a part of it.',
});
const ABOUT_GRAMS = [Math.round(0.85 * CREEP_MASS_GRAMS), Math.round(1.15 * CREEP_MASS_GRAMS)] as const;

const delay: CheckStep = {
  id: 'delay',
  kind: 'delay',
  title: 'Delay between cells and accelerometer',
  doThis:
    'Hold the sleeve level, grip underneath, an empty bottle in it. Move it up and down by a hand’s breadth, once or twice a second, all the time.',
  seconds: 15,
  limits: [
    {
      what: 'cells later than the accelerometer by',
      unit: 'ms',
      least: 0,
      greatest: 50,
      source:
        'a converter settles within 50 ms at 80 readings a second, its middle after about 25 ms; an accelerometer’s 44 Hz low-pass lags 5 ms (data sheets, from memory)',
    },
    {
      what: 'share of the cells’ motion that the accelerometer explains',
      unit: '%',
      least: 90,
      source: 'both feel the same hand; own choice, no source',
    },
  ],
  ifItFails:
    'Too late: RATE is not tied to 5 V, or the program on the chip is an old one. Too early: the accelerometer’s low-pass is set lower than the program says. Little explained: the accelerometer is loose on its shelf, or cup and shell touch.',
};

const STOP_PRESSES_GRAMS = [200, 400, 600] as const;
const PRESS_AT: Record<CellName, string> = {
  axial:
    'Stand the sleeve upright on a kitchen scale, an empty bottle in it. You will press the bottle straight down.',
  front:
    'Lay the sleeve level on a kitchen scale, grip underneath, an empty bottle in it. You will press the bottle down close in front of the sleeve.',
  rear: 'Lay the sleeve level on a kitchen scale, grip underneath, without a bottle. You will press the floor of the inner cup’s rear end down with the handle of a wooden spoon.',
};
const stops = (cell: CellName): CheckStep => ({
  id: `stops-${cell}`,
  kind: 'stops',
  cell,
  pressesGrams: STOP_PRESSES_GRAMS,
  title: `Stops, ${cell} cell`,
  doThis: `${PRESS_AT[cell]} Set the scale to zero. Press at the same spot each time, harder and harder.`,
  seconds: 2,
  limits: [
    {
      what: 'response to the hardest press, of that to the first',
      unit: '%',
      least: 80,
      source:
        'budget "Stops": no stop touches before the seat gives way, at 9.6 N of push; a finger keeps a press to some 5 %. Own choice, no source',
    },
    {
      what: 'shown of the first press',
      unit: '%',
      least: 70,
      source:
        'the pressed cell carries all of it or, by the lever, more; 15 % for a cell that is not calibrated, and as much for the spot. Own choice, no source',
    },
  ],
  ifItFails:
    'It flattens: a stop touches too soon. Set the cup anew: a leaf of 0.25 mm must pass round each stop pin, one of 0.3 mm beside each foot (step 15 of the build guide). It shows too little from the start: a pin touches already, or cloth, milk or a cell lead lies between cup and shell.',
});

const warmth: CheckStep = {
  id: 'warmth',
  kind: 'warmth',
  title: 'A warm bottle',
  doThis:
    'The sleeve is at room temperature, has been on for half an hour, and has stood upright and untouched for ten minutes. Fill a bottle with 120 mL (4 fl oz) of water of 37 to 40 °C (99 to 104 °F) and close it. Stand the sleeve upright and put the bottle in. Touch nothing from then on.',
  seconds: TEN_MINUTES_SEC,
  limits: ofEach({
    what: 'zero moved in ten minutes, by 10 K of warmth',
    unit: 'g/10 K',
    least: -1,
    greatest: 1,
    source: `cells are sold with ${100 * CELL_DATA.zeroDriftPer10K} % of the rated load, ${CELL_DATA.zeroDriftPer10K * CELL_DATA.ratedGrams} g, in 10 K (typical, from memory)`,
  }),
  ifItFails:
    'Look whether the liner sits between bottle and cup all round, and whether a cell touches the cup. One cell alone: change it. Otherwise let a warm bottle sit in the sleeve for five minutes before each feed.',
};

/** As they are walked: warmth last, since what it moved comes back slowly. Each of ten minutes may be left out. */
export const BRING_UP: readonly CheckStep[] = [
  longRest,
  creep('upright', 'upright', 'Stand the sleeve upright, without a bottle.', ['axial'], ABOUT_GRAMS),
  creep(
    'level',
    'level',
    'Lay the sleeve level at the edge of the table, grip underneath, without a bottle.',
    ['front', 'rear'],
    ABOUT_GRAMS,
  ),
  delay,
  stops('axial'),
  stops('front'),
  stops('rear'),
  warmth,
];
