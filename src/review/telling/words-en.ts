import type { Output } from '../../feed/record/feed.ts';
import type { Held, ReviewWords } from './words.ts';

const times = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`;
const NUMBERS = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine'];

const together = (texts: readonly string[]): string =>
  texts.length === 1 ? texts[0]! : `${texts.slice(0, -1).join(', ')} and ${texts.at(-1)}`;

/** "20 and 35 s", or with minutes where one is long. */
function listed(seconds: readonly number[]): string {
  const isLong = seconds.some((one) => one >= 100);
  const texts = seconds.map((one) =>
    !isLong ? String(one) : one < 100 ? `${one} s` : `${Math.round(one / 60)} min`,
  );
  const list = together(texts);
  return isLong ? list : `${list} s`;
}

/** An approximate duration in words. */
function about(seconds: number): string {
  if (seconds < 15) return 'a few seconds';
  if (seconds < 45) return 'about half a minute';
  if (seconds < 90) return 'about a minute';
  return `about ${Math.round(seconds / 60)} minutes`;
}

const OUTPUTS_EN: Record<Output, string> = { page: 'page', light: 'light', sound: 'sound' };
const HELD_EN: Record<Held, string> = {
  upright: 'nearly upright',
  'base-low': 'with its bottom low',
  level: 'about level',
  steep: 'steeply, bottom up',
};

const POURS = {
  spill: 'spilt',
  refill: 'poured in',
  more: 'more, after the bottle was out of the sleeve,',
  less: 'less, after the bottle was out of the sleeve,',
} as const;

export const REVIEW_WORDS_EN: ReviewWords = {
  locale: 'en-US',
  panels: {
    taken: 'Milk taken',
    flow: 'Flow',
    bursts: 'Suck bursts',
    angle: 'How it was held',
    nipple: 'Nipple in mouth',
    burps: 'Upright, nipple out',
    burped: 'Burp noted',
    paused: 'Cues off',
    spilt: 'Leaked or spilt',
    poured: 'Poured in',
    bottle: 'Bottle out',
  },
  units: {
    flow: 'mL/min, over 10 s',
    sucks: 'sucks in each',
    angle: 'degrees',
    upright: 'upright',
    level: 'level',
  },
  minutesAxis: 'minutes since the first latch',
  cueLine: 'cue line',
  lowerEdge: 'small studies of newborns',
  fastLine: 'fast',
  simulatedFeed: 'Simulated feed',
  inSimulation: 'in simulation',
  taken: (amount, time, isOpen) => `${amount} taken${isOpen ? ' so far,' : ''} ${time}`,
  littleTaken: (time, isOpen) => `Less than 1 mL taken${isOpen ? ' so far,' : ''} ${time}`,
  notKnown: 'How much milk was taken is not known',
  refused: (amount) => `A bottle offered, ${amount} tried`,
  inMinutes: (minutes) => (minutes < 1 ? 'in under a minute' : `in ${minutes} min`),
  spilt: (amount) => `${amount} was spilt`,
  poured: (amount) => `${amount} was poured in`,
  bottleBack: (amount, isMore) =>
    `the bottle was out of the sleeve, then there was ${amount} ${isMore ? 'more' : 'less'}`,
  fast: (count, allSec, isMost) => {
    if (isMost) return 'milk ran fast most of the time';
    if (count === 1) return `milk ran fast once, for ${about(allSec)}`;
    const often = count === 2 ? 'twice' : `${NUMBERS[count] ?? count} times`;
    return `milk ran fast ${often}, ${about(allSec)} in all`;
  },
  noFast: 'milk never ran fast',
  byMarks: (amount) => `By the bottle’s own marks: ${amount} taken.`,
  marksLeftOver: (amount) => `By the bottle’s own marks: ${amount} left over.`,
  marksLabel: 'by the marks',
  notFinished: 'not finished, live numbers',
  source: {
    refined: 'Refined after the feed',
    open: 'Live estimate; the feed is not finished',
    live: 'Live estimate; the feed was not refined',
  },
  milkWithin: (ml) => `milk right to about ${ml} mL`,
  flowWithin: (mlPerMin) => `flow to about ${mlPerMin} mL/min`,
  deviations: 'two standard deviations',
  sleeve: (id) => `sleeve ${id}`,
  calibrated: (day) => (day === null ? 'calibration undated' : `calibrated ${day}`),
  bandNote: (lines, fastMlPerMin) =>
    (lines === null
      ? '“Lower your hand” was off for this baby, so there is no line for it. '
      : `Band: pace of a breast-like feed. Dashed: where “Lower your hand” comes if milk flows fast from the start (${lines.join(', or ')}); after a slow start it comes lower. `) +
    'Dotted: the lower of two means of small studies of newborns, two breasts on day 6 (Lucas 1980, 1981) and whole sessions at one month (Kent 2013). ' +
    `Babies differ widely: it is no target. Fast stretch: flow above ${fastMlPerMin} mL/min for 5 s or longer.`,
  paceOf: {
    shipped: '',
    scaled: 'This feed ran with a pace scaled for this baby.',
    clinician: 'This feed ran with the pace of a clinician’s plan.',
  },
  spreadNote: 'Shaded around the flow: how far it may be off, two standard deviations.',
  hatchNote: 'Hatched: no estimate.',
  describe: {
    intro: 'Graph of milk taken, flow, suck bursts, hold angle and cues over minutes since the first latch.',
    times: 'Times in minutes and seconds:',
    cue: (words, at) => `${words} at ${at}.`,
  },
  pourAt: (kind, amount, at) => `${amount} ${POURS[kind]} at ${at}.`,
  noEstimate: (from, to) => `No estimate from ${from} to ${to}.`,
  quoted: (words) => `“${words}”`,
  followed: (what, seconds) =>
    ({
      lowered: `lowered after ${seconds} s`,
      'nipple-out': seconds === 0 ? 'nipple out at once' : `nipple out after ${seconds} s`,
      eased: `flow eased after ${seconds} s`,
      'went-on': 'the feed went on',
    })[what],
  toldBy: (outputs) => `by ${together(outputs.map((output) => OUTPUTS_EN[output]))}`,
  toldUnknown:
    'Not known: this feed is from before Ebbline wrote down what it showed. Below is what its rules found; nobody may have been told.',
  ended: {
    button: 'Ended by the button.',
    page: 'Ended on the page.',
    'teat-away': 'Ended by itself after 45 minutes without the nipple.',
    'link-ended': 'Ended when the sleeve went away.',
  },
  simulationOver: 'Ended with the simulation.',
  stillOpen: 'This feed is still open; the numbers are those of this moment.',
  facts: {
    pauses: (count, longestSec) =>
      `${times(count, 'pause', 'pauses')} with the nipple out, the longest ${about(longestSec)}.`,
    burps: (count) =>
      `Bottle upright ${count === 1 ? 'once' : count === 2 ? 'twice' : `${count} times`}, as for a burp.`,
    held: (how) => `Held ${HELD_EN[how]} on the whole.`,
  },
  figures: {
    title: 'Figures',
    fast: (seconds, mlPerMin) => `Faster than ${mlPerMin} mL/min for 5 s or longer: ${listed(seconds)}.`,
    bursts: (count, sucks) => `${times(count, 'suck burst', 'suck bursts')}, about ${sucks} sucks in each.`,
    angle: (degrees) => `Angle ${degrees}° (0° upright, 90° level).`,
    taken: 'Taken is what left the bottle with the nipple in the mouth; what ran out of the mouth is in it.',
  },
  table: {
    title: 'Minute by minute',
    minute: 'Minute',
    inMinute: 'In this minute, mL',
    soFar: 'So far',
    flow: 'Most flow, mL/min',
    sucks: 'Sucks',
    angle: 'Angle',
    cues: 'Cues',
    unknown: 'unknown',
  },
  cuesTitle: 'Cues shown, and what followed',
  noCues: 'No cue was shown.',
  graphTitle: 'Graph',
  noteTitle: 'Note',
  numbersTitle: 'Where the numbers come from',
  compare: {
    title: 'Two feeds',
    first: 'First, thick line',
    second: 'Second, dashed line',
    describe:
      'Milk taken over minutes since the first latch: the first feed as a thick line, the second as a thin dashed one.',
  },
  caution:
    'Not a medical device. Watch the baby, not the numbers; one feed says little, and babies differ widely. Ask your clinician about feeding and growth.',
};
