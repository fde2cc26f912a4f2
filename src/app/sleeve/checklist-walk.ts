/** Guides a builder through the bring-up checklist: asks, takes samples, evaluates, and lets every step be repeated. No terminal, no port. */

import {
  evaluateAnswer,
  evaluateKitchen,
  evaluateStep,
  evaluateStops,
  evaluateWarmth,
  type StepResult,
} from '../../../hardware/bring-up/check-steps.ts';
import type { CheckSample } from '../../../hardware/bring-up/check-values.ts';
import type { CheckStep } from '../../../hardware/bring-up/checklist.ts';
import type { GramsPerCount, Press } from '../../../hardware/bring-up/measures.ts';

export interface LightColor {
  red: number;
  green: number;
  blue: number;
}

const DARK: LightColor = { red: 0, green: 0, blue: 0 };
const WHITE: LightColor = { red: 200, green: 200, blue: 200 };
/** Single colors in the order asked about, so that swapped wires are noticed. */
const COLORS: readonly LightColor[] = [
  { ...DARK, red: 200 },
  { ...DARK, green: 200 },
  { ...DARK, blue: 200 },
];
const COLOR_SEC = 2;

/** A person at a terminal. */
export interface Talk {
  say(text: string): void;
  /** @returns what was typed, trimmed */
  ask(question: string): Promise<string>;
}

/** The sleeve under test. */
export interface CheckedSleeve {
  /** Samples of the next so many seconds. */
  collect(seconds: number): Promise<CheckSample[]>;
  /** Levels of the three colors, 0 to 255. */
  showLight(color: LightColor): void;
  /** One beep. */
  playTone(): void;
  /** Lets so many seconds pass. */
  wait(seconds: number): Promise<void>;
  /** Milk (here: water) in the bottle by the sleeve, grams, from 5 s held still; null when it cannot be weighed or nothing is calibrated. */
  weighGrams(): Promise<number | null>;
  readonly calibrated: boolean;
  /** Grams per count of each cell by the calibration; absent: by the data sheets. */
  readonly gramsPerCount?: GramsPerCount | undefined;
}

export type StepOutcome = StepResult | { id: string; passed: null };

/** @returns the result of every step; `passed` is null for a skipped one */
export async function walkChecklist(
  steps: readonly CheckStep[],
  sleeve: CheckedSleeve,
  talk: Talk,
): Promise<StepOutcome[]> {
  const outcomes: StepOutcome[] = [];
  for (const [index, step] of steps.entries()) {
    talk.say(`\nStep ${index + 1} of ${steps.length}: ${step.title}`);
    talk.say(step.doThis);
    outcomes.push(await untilSettled(step, sleeve, talk));
  }
  talk.say(`\n${summary(outcomes)}`);
  return outcomes;
}

async function untilSettled(step: CheckStep, sleeve: CheckedSleeve, talk: Talk): Promise<StepOutcome> {
  if (step.kind === 'kitchen' && !sleeve.calibrated) {
    talk.say('Left out: it needs a calibration. Calibrate the sleeve, then run this check again.');
    return { id: step.id, passed: null };
  }
  for (;;) {
    const ready = await talk.ask(readyQuestion(step));
    if (ready.toLowerCase() === 's') return { id: step.id, passed: null };
    const result = await doStep(step, sleeve, talk);
    talk.say(resultText(result));
    if (result.passed) return result;
    talk.say(step.ifItFails);
    const again = await talk.ask('Press Enter to do this step again, or type n to go on: ');
    if (again.toLowerCase() === 'n') return result;
  }
}

/** Steps longer than this announce their duration. */
const LONG_SEC = 300;
const readyQuestion = ({ seconds }: CheckStep): string =>
  seconds < LONG_SEC
    ? 'Press Enter when ready, or type s to skip: '
    : `This takes ${Math.ceil(seconds / 60)} minutes. Press Enter when ready, or type s to leave it out: `;

const numberAsked = async (talk: Talk, question: string): Promise<number> =>
  Number((await talk.ask(question)).replace(',', '.') || Number.NaN);

async function doStep(step: CheckStep, sleeve: CheckedSleeve, talk: Talk): Promise<StepResult> {
  switch (step.kind) {
    case 'look': {
      await show(step.show, sleeve);
      const answer = await talk.ask(`${step.question} (y/n): `);
      sleeve.showLight(DARK);
      return evaluateAnswer(step, answer.toLowerCase().startsWith('y'));
    }
    case 'kitchen': {
      const before = await sleeve.weighGrams();
      talk.say('Weighed. Now draw the water, then hold the sleeve level and still again.');
      await talk.ask('Press Enter when it is still: ');
      const after = await sleeve.weighGrams();
      const scaleGrams = await numberAsked(talk, 'What does the scale show, in grams? ');
      if (before === null || after === null) return unweighed(step);
      return evaluateKitchen(step, scaleGrams, before - after);
    }
    case 'stops':
      return evaluateStops(step, await pressesOn(step, sleeve, talk), sleeve.gramsPerCount);
    case 'warmth': {
      const waterDegC = await numberAsked(talk, 'How warm is the water, in °C? ');
      const roomDegC = await numberAsked(talk, 'And the room, in °C? ');
      talk.say(measuringText(step.seconds));
      const samples = await sleeve.collect(step.seconds);
      return evaluateWarmth(step, samples, waterDegC - roomDegC, sleeve.gramsPerCount);
    }
    default:
      if (step.seconds > 0) talk.say(measuringText(step.seconds));
      return evaluateStep(step, await sleeve.collect(step.seconds), sleeve.gramsPerCount);
  }
}

const measuringText = (seconds: number): string =>
  seconds < LONG_SEC
    ? `Measuring for ${seconds} s …`
    : `Measuring for ${Math.ceil(seconds / 60)} minutes … Walk softly.`;

/** First at rest, then each press: the person enters the reading of the kitchen scale and holds the press meanwhile. */
async function pressesOn(
  { seconds, pressesGrams }: Extract<CheckStep, { kind: 'stops' }>,
  sleeve: CheckedSleeve,
  talk: Talk,
): Promise<Press[]> {
  talk.say('Hands off for a moment …');
  const presses: Press[] = [{ scaleGrams: 0, samples: await sleeve.collect(seconds) }];
  for (const grams of pressesGrams) {
    const scaleGrams = await numberAsked(
      talk,
      `Press until the scale shows about ${grams} g and keep it there. What does it show, in grams? `,
    );
    presses.push({ scaleGrams, samples: await sleeve.collect(seconds) });
  }
  return presses;
}

async function show(what: 'light' | 'white' | 'buzzer', sleeve: CheckedSleeve): Promise<void> {
  if (what === 'buzzer') return sleeve.playTone();
  if (what === 'white') return sleeve.showLight(WHITE);
  for (const color of COLORS) {
    sleeve.showLight(color);
    await sleeve.wait(COLOR_SEC);
  }
  sleeve.showLight(DARK);
}

const unweighed = (step: CheckStep): StepResult => ({
  id: step.id,
  passed: false,
  readings: [],
  trouble: 'The sleeve could not weigh the bottle: hold it still, grip underneath, nobody at the nipple.',
});

function resultText({ passed, readings, trouble }: StepResult): string {
  const lines = readings.map(({ limit, value, passed: within }) => {
    const bounds = [
      limit.least === undefined ? '' : `at least ${limit.least}`,
      limit.greatest === undefined ? '' : `at most ${limit.greatest}`,
    ].filter(Boolean);
    const measured = value === null ? 'not measured' : String(Number(value.toPrecision(4)));
    return `  ${within ? 'ok   ' : 'NOT OK'} ${limit.what}: ${measured} ${limit.unit} (${bounds.join(', ')})`;
  });
  return [passed ? 'Passed.' : 'Not passed.', ...(trouble ? [`  ${trouble}`] : []), ...lines].join('\n');
}

function summary(outcomes: readonly StepOutcome[]): string {
  const names = (passed: boolean | null) => outcomes.filter((o) => o.passed === passed).map(({ id }) => id);
  const failed = names(false);
  const skipped = names(null);
  return [
    `${names(true).length} passed, ${failed.length} not passed, ${skipped.length} left out.`,
    ...(failed.length > 0 ? [`Not passed: ${failed.join(', ')}.`] : []),
    ...(skipped.length > 0 ? [`Left out: ${skipped.join(', ')}.`] : []),
    ...(failed.length > 0 ? ['Do not use this sleeve at a baby before every step has passed.'] : []),
  ].join('\n');
}
