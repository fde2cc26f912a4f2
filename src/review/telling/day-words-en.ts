import { CURVE_SOURCE, SPREAD_SOURCE } from '../../planning/intake/daily-intake.ts';
import type { DayWords } from './day-words.ts';

const times = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`;

/** "5 mL is a good try", "three refusals or ten minutes", "little by day": common practice, no source. */
export const DAY_WORDS_EN: DayWords = {
  locale: 'en-US',
  taken: (amount, bottles, time) =>
    `${amount} taken from ${times(bottles, 'bottle', 'bottles')}, ${time} in all.`,
  noBottles: 'No bottle on this day.',
  time: (seconds) => {
    const minutes = Math.round(seconds / 60);
    return minutes < 60 ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
  },
  breast: (count) => `${times(count, 'feed', 'feeds')} at the breast; nobody can tell how much.`,
  unknownAmounts: (count) => `${times(count, 'bottle', 'bottles')} without an amount.`,
  left: (amount) => `${amount} left over.`,
  refused: (count) =>
    `${times(count, 'bottle', 'bottles')} offered and hardly taken. That is a feed too; 5 mL is a good try.`,
  restNow:
    'After three refusals, or ten minutes of trying: rest, and try later. Ask your clinician if a baby will not feed.',
  published: (low, middle, high) =>
    `Published for this age, milk in 24 hours: ${low} to ${high}, half of the babies more than ${middle}.`,
  publishedWithBreast:
    'Feeds at the breast come on top of what is counted here, so the two cannot be compared.',
  publishedNote: 'Babies differ widely; being outside is no sign of anything by itself.',
  publishedSource: `${CURVE_SOURCE}; spread: ${SPREAD_SOURCE}`,
  drawn: {
    title: 'Feeds over the hours of the day',
    taken: 'From bottles',
    published: 'published: shaded',
    fast: 'ran fast (over 14 mL/min)',
    day: (bottles, amount, fast, breast) =>
      `${times(bottles, 'bottle', 'bottles')}, ${amount}${fast === 0 ? '' : `, ${fast} of them fast`}; ${times(breast, 'feed', 'feeds')} at the breast.`,
  },
  clocks: (hours) => `The clocks changed: this day had ${hours} hours.`,
  kinds: { bottle: 'Bottle', breast: 'At the breast', refused: 'Offered, hardly taken' },
  sides: { left: 'left', right: 'right', both: 'both sides' },
  tried: (amount) => `${amount} tried`,
  minutes: (seconds) => (seconds < 60 ? 'under 1 min' : `${Math.round(seconds / 60)} min`),
  byHand: 'written in by hand',
  open: 'still open',
  simulated: 'simulated',
  cues: (count) => (count === 0 ? 'no cues' : times(count, 'cue', 'cues')),
  amountUnknown: 'amount not written down',
  weekTitle: (from, to) => `${from} to ${to}`,
  week: (amount, days) =>
    days === 1
      ? `${amount} taken from bottles, all on one day.`
      : `About ${amount} a day taken from bottles, on ${days === 7 ? 'each' : days} of these seven days.`,
  heads: {
    day: 'Day',
    taken: 'Taken',
    bottles: 'Bottles',
    breast: 'At the breast',
    time: 'Time',
    left: 'Left over',
    expressed: 'Expressed',
  },
  night:
    'Little by day and more in the evening and at night: a known pattern of babies whose mother is away by day. With diapers and growth as usual it is nothing to fix. If you are unsure, ask your clinician.',
  expressed: (amount) => `Expressed: ${amount}.`,
  away: (amount) => `Taken from bottles: ${amount}.`,
  freezer: (amount, days, oldest) =>
    `In the freezer: ${amount}, the oldest of ${oldest}${days === null ? '' : `; about ${times(days, 'day', 'days')} of bottles like these`}.`,
  noMilkList: 'What is expressed and what lies in the freezer shows here once it is in the milk list.',
  notSupply: 'Pump output is not your supply: a baby takes milk that a pump does not.',
  compareTitle: 'These seven days and the seven before',
  tooFew: (first, second) =>
    `Not compared: ${first} and ${second} bottles with an amount, and it takes 10 on either side. One baby takes 13 to 15 % more or less from day to day, so few feeds differ by chance.`,
  compared: (first, second, firstRange, secondRange) =>
    `Half of the bottles were under ${first} before, and under ${second} now; the middle half ${firstRange}, now ${secondRange}.`,
  comparedFlow: (first, second) => `Usual flow ${first} before, ${second} now.`,
  usual: 'The difference lies within what one baby varies by from day to day (13 to 15 %).',
  beyond:
    'The difference is more than one baby varies by from day to day (13 to 15 %). Why, no number here can tell.',
  from: (low, high) => `${low} to ${high}`,
};
