import type { ReviewWords } from './words.ts';

const times = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`;
const NUMBERS = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine'];
/** More stretches than this are counted, not listed. */
const MOST_LISTED = 4;

/** "20 and 35 s", or with minutes where one is long. */
function listed(seconds: readonly number[]): string {
  const isLong = seconds.some((one) => one >= 100);
  const texts = seconds.map((one) =>
    !isLong ? String(one) : one < 100 ? `${one} s` : `${Math.round(one / 60)} min`,
  );
  const list = texts.length === 1 ? texts[0]! : `${texts.slice(0, -1).join(', ')} and ${texts.at(-1)}`;
  return isLong ? list : `${list} s`;
}

export const REVIEW_WORDS_EN: ReviewWords = {
  locale: 'en-US',
  panels: {
    taken: 'Milk taken',
    flow: 'Flow',
    bursts: 'Suck bursts',
    angle: 'Hold angle',
    nipple: 'Nipple in mouth',
    burps: 'Upright, nipple out',
    burped: 'Burp noted',
    paused: 'Cues paused',
    spilt: 'Leaked or spilt',
    poured: 'Poured in',
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
  left: (amount, time, isOpen) => `${amount} left the bottle${isOpen ? ' so far,' : ''} ${time}`,
  littleLeft: (time, isOpen) => `Less than 1 mL left the bottle${isOpen ? ' so far,' : ''} ${time}`,
  notKnown: 'How much milk left the bottle is not known',
  refused: (amount) => `A bottle offered, ${amount} tried`,
  inMinutes: (minutes) => (minutes < 1 ? 'in under a minute' : `in ${minutes} min`),
  spilt: (amount) => `${amount} was spilt`,
  poured: (amount) => `${amount} was poured in`,
  fast: (seconds) => {
    const count = NUMBERS[seconds.length] ?? String(seconds.length);
    const which = seconds.length === 1 ? 'stretch' : 'stretches';
    if (seconds.length > MOST_LISTED) {
      const sum = seconds.reduce((all, one) => all + one, 0);
      return `${count} fast ${which}, ${listed([sum])} together`;
    }
    return `${count} fast ${which}, ${listed(seconds)}`;
  },
  noFast: 'no fast stretch',
  byMarks: (amount) => `By the bottle’s own marks: ${amount}.`,
  marksLeft: (amount) => `By the bottle’s own marks ${amount} stayed in it.`,
  marksLabel: 'by the marks',
  notFinished: 'not finished, live numbers',
  source: {
    refined: 'Refined after the feed',
    open: 'Live estimate; the feed is not finished',
    live: 'Live estimate; the feed was not refined',
  },
  milkWithin: (ml) => `milk ±${ml} mL`,
  flowWithin: (mlPerMin) => `flow ±${mlPerMin} mL/min (k = 2)`,
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
  spreadNote: 'Shaded around the flow: its uncertainty, k = 2.',
  hatchNote: 'Hatched: no estimate.',
  describe: {
    intro: 'Graph of milk taken, flow, suck bursts, hold angle and cues over minutes since the first latch.',
    times: 'Times in minutes and seconds:',
    cue: (words, at) => `${words} at ${at}.`,
  },
  pourAt: (kind, amount, at) => `${amount} ${kind === 'spill' ? 'spilt' : 'poured in'} at ${at}.`,
  noEstimate: (from, to) => `No estimate from ${from} to ${to}.`,
  quoted: (words) => `“${words}”`,
  followed: (what, seconds) =>
    ({
      lowered: `lowered after ${seconds} s`,
      'nipple-out': seconds === 0 ? 'nipple out at once' : `nipple out after ${seconds} s`,
      eased: `flow eased after ${seconds} s`,
      'went-on': `no change in ${seconds} s`,
    })[what],
  ended: {
    button: 'Ended by the button.',
    page: 'Ended on the page.',
    'teat-away': 'Ended by itself after 45 minutes without the nipple.',
    'link-ended': 'Ended when the sleeve went away.',
  },
  stillOpen: 'This feed is still open; the numbers are those of this moment.',
  facts: {
    bursts: (count, sucks) => `${times(count, 'suck burst', 'suck bursts')}, about ${sucks} sucks in each.`,
    pauses: (count, longest) =>
      `${times(count, 'pause', 'pauses')} with the nipple out, the longest ${longest}.`,
    burps: (count) => `${times(count, 'break', 'breaks')} with the bottle upright, as for a burp.`,
    angle: (degrees) => `Held at ${degrees}° on the whole (0° upright, 90° level).`,
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
  cuesTitle: 'Cues, and what followed',
  noCues: 'No cue was needed.',
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
