import { MILK_WORDS_EN } from './milk-words-en.ts';
import type { PackingWords } from './words.ts';

const tenth = (value: number): string => String(Math.round(10 * value) / 10);
const own = (share: number): string => `${Math.round(100 * share)} %`;

export const PACKING_WORDS_EN: PackingWords = {
  title: 'Pack the bottles',
  intro: 'Enough for the hours away, and as little as possible down the sink.',
  day: 'Day',
  from: 'Away from',
  until: 'until',
  feeds: 'Feeds you will miss',
  feedsFrom: { asked: 'as you set it', kept: 'as on most past days', hours: 'one every 3 hours' },
  fewer: 'One fewer',
  more: 'One more',
  baby: 'Baby',
  born: 'Born on',
  bornHint: 'The amount rests on the baby’s age.',
  milkOnHand: (fridge, freezer) => `On hand: ${fridge} in the fridge, ${freezer} frozen.`,
  noMilk: 'No milk is in the list yet.',
  toMilk: 'Milk list',
  pack: (count) => `Pack ${count} ${count === 1 ? 'bottle' : 'bottles'}`,
  roles: {
    feed: 'one for each feed',
    'top-up': 'only if baby still asks',
    spare: 'spare: opened last',
  },
  spareApart: 'spare: they call you first',
  expected: (thrown, days) => `About ${thrown} will be thrown away. It runs short on ${days}.`,
  days: (of100) => `${of100} of 100 days`,
  underOneDay: 'less than 1 of 100 days',
  limited: {
    milk: ({ onHand, days }) =>
      `That is what the ${onHand} on hand will do; it runs short on ${days}. When it does, whoever feeds calls you, or gives what you agreed on. No need to pump for a number.`,
    'rule-of-thumb': ({ days }) =>
      `It may run short on ${days}, oftener than you set: little is known of this baby yet, so the bag stays within the rule of thumb. After a few bottles it will be closer.`,
    bottles: ({ days }) =>
      `It may run short on ${days}, oftener than you set, with as many bottles as you allow.`,
  },
  ruleOfThumb: (range) =>
    `People who pump often go by 1 to 1½ fl oz for each hour away, here ${range} (common practice, no source).`,
  whyThis: (thrown, days) =>
    `Why these: with one bottle fewer about ${thrown} would be thrown away, and it would run short on ${days}.`,
  choices: 'Side by side',
  gates: {
    'under-six-weeks':
      'Under six weeks, babies differ from day to day, and what they take grows fast. Ask your midwife, lactation consultant or pediatrician how much to leave.',
    'born-early':
      'Born early: the curve is of babies born at term. Go by the plan of your care team for amounts, and for how to store milk.',
    'slow-to-gain':
      'Slow to gain: the amount is for your clinician to say, and offers should not be made smaller to save milk.',
    ill: 'A baby that is not well may want far less, or more often. Ask your clinician; offer, and let baby decide.',
    'past-six-months':
      'From about six months most babies eat solids, too, and many take less milk. Go by what yours took lately.',
  },
  nippleRuns: (name) =>
    `The nipple “${name}”, as measured, gives milk faster than the pace by itself: better send another.`,
  noClaim:
    'So nothing is claimed here about how often it runs short. The milk’s times hold as they are, and so does what this baby took.',
  packedPlainly: (thrown) => `About ${thrown} may be thrown away.`,
  ill: 'Baby is not well',
  seen: ({ emptied, refused, poured }) =>
    [
      emptied > 0 ? `${emptied} came back empty, which says “at least this”.` : '',
      refused > 0
        ? `${refused} ${refused === 1 ? 'was refused, and says' : 'were refused, and say'} nothing of how much baby takes.`
        : '',
      poured > 0
        ? `${poured} flowed faster than the band and ${poured === 1 ? 'counts' : 'count'} for less: that is not how much was wanted.`
        : '',
    ]
      .filter(Boolean)
      .join(' '),
  sameHours: 'Only bottles given in these hours were used; there are enough of them.',
  record: ({ days, promisedShort, realisedShort }, thrown, promised) =>
    `Of ${days} planned days it ran short on ${realisedShort}; by the plans it would have been ${tenth(promisedShort)}. Thrown away: ${thrown}, planned ${promised}. New plans go by that.`,
  thawTonight: (ids, when) =>
    `To thaw: move ${ids} from the freezer to the fridge by ${when}. It takes about 12 hours.`,
  take: 'Take this plan',
  taken: 'Taken. Its milk is kept for it, and no other plan uses it.',
  larger: 'Bottles above the usual size are among them; without them it would run short too often.',
  spareMissing: 'No spare could be made of the milk there is.',
  asIfEnough: 'Planned as if there were milk enough: none is in the list.',
  fill: 'Fill them from',
  filled: 'Filled: put it into the milk list',
  filledNow: 'It is in the milk list now, one label for each bottle.',
  rest: (amount, id) => `${amount} stays in ${id}.`,
  thawed: (amount) => `${amount} is thawed for this: published, 24 hours once thawed, never refreeze (CDC).`,
  left: {
    'held-back': 'held back',
    'time-passes': 'a published time, or the center’s, has passed or passes before you are back',
    'size-fits-less': 'another size wastes less',
    'comes-later': 'not needed, others come first',
  },
  stays: (ids, why) => `${ids}: ${why}.`,
  trouble: 'No bottles are planned.',
  portion: 'How much',
  perFeed: (range) => `A feed: ${range}, on 8 of 10 feeds.`,
  total: (range) => `All together: ${range}, on 8 of 10 days.`,
  basis: ({ bottleFeeds, bottleDays, ownShare }) =>
    bottleFeeds === 0
      ? 'From the published curve for this age alone: no bottle feeds are kept yet, so the range is wide.'
      : `From ${bottleFeeds} bottle feeds on ${bottleDays} days (${own(ownShare)} of the answer); the rest is the published curve for this age.`,
  size: ({ because, days }, size) =>
    ({
      first: `Begin with bottles of up to ${size}. Another size only after 4 days of change.`,
      unchanged: `Stay with bottles of up to ${size}. Another size only after 4 days of change.`,
      more: `On each of the last ${days} days baby took more: try ${size}.`,
      less: `On each of the last ${days} days baby took less: try ${size}.`,
    })[because],
  outside: 'This rate lies outside what 95 of 100 babies take. That alone is no sign of anything.',
  leftOut: (count) => `${count} kept feeds cannot be right and were left out.`,
  trade: 'Running short or throwing away',
  tradeSay:
    'Each point of the line is another way to pack. Further right it runs short oftener; further down less is wasted.',
  thrownAway: 'Thrown away',
  shortOn: 'Short, of 100 days',
  way: 'Way to pack',
  bottles: 'Bottles',
  thisPlan: 'This plan',
  plain: {
    'rule-of-thumb': (size) => `Rule of thumb, ${size} a feed`,
    'last-week': (size) => `Last week’s most, ${size} a feed`,
  },
  otherPlans: 'Other plans',
  mayBeShort: 'It may run short on, of 100 days',
  why: 'What this rests on',
  assumptions: {
    'own-feeds': ({ bottleFeeds }) =>
      bottleFeeds === 0
        ? 'No bottle feed of this baby is kept yet.'
        : `This baby’s own rate, from ${bottleFeeds} bottle feeds.`,
    curve: ({ ageDays }) => `Milk a day at ${ageDays} days of age, while own feeds are few.`,
    'between-babies': () => 'Babies differ widely around that curve.',
    'day-to-day': () => 'One baby’s days differ by 14 %.',
    spells: () =>
      'On some days in a row a baby wants less or more, as when it is ill. Each may be the last, and after less often more is wanted.',
    'feed-to-feed': () => 'Feeds of a day differ by a third until enough are known.',
    refused: () =>
      'A bottle of up to 10 mL counts as refused: 3 in 100, until feeds are known. It does not count as a small appetite.',
    emptied: () =>
      'A bottle that comes back with up to 5 mL is emptied: at least that was wanted. Some houses empty every bottle; that is reckoned with, too.',
    poured: () => 'Milk that flowed faster than the band: once to twice what was wanted may have gone in.',
    'bottle-price': () => 'A bottle more to fill and wash is worth some milk; set under “Rules and people”.',
    'rule-of-thumb': () => '1 to 1½ fl oz for each hour, while fewer than six own bottles are known.',
    sizes: () => 'Bottles of 2 to 4 fl oz, small ones of 1 to 3.',
    'left-over': () => 'What is left in an opened bottle counts as thrown away.',
    close: () => 'Nobody opens a bottle for the last 2.5 mL.',
  },
  source: 'Source',
  print: 'Print and send along',
  feedingPlan: 'Feeding plan',
  daySheet: 'Day sheet',
  sheetLanguage: 'Language of the sheets',
  callFirst: 'The feeding plan says whom to call: enter that under “Rules and people” first.',
  asPdf: 'PDF',
  asPage: 'Page',
  rules: 'Rules and people',
  mostBottles: 'Bottles at the most, the spare too',
  twoMore: 'two more than feeds',
  bottlePrice: 'One more bottle to wash is worth',
  bottlePrices: { none: 'Nothing', usual: 'A sip of milk', high: 'An ounce of milk' },
  pouring: 'Pouring together',
  pouringChoices: { 'at-home': 'Poured at home', none: 'As it was stored' },
  unopened: 'Unopened bottles',
  unopenedChoices: { 'comes-back': 'Come back', 'thrown-away': 'Are thrown away' },
  spare: 'Spare bottle',
  noSpare: 'None',
  spareRule: 'The spare is opened',
  spareRules: { last: 'When nothing else is left', 'kept-apart': 'Only after a call' },
  leftoverRule: 'The center’s rule for what is left in a bottle',
  leftoverHint: 'In their words; it stands first on the feeding plan',
  centerTimes: 'Times of the center, before the published ones',
  hours: 'Hours',
  whose: 'Whose rule',
  addTime: 'Add a time',
  remove: 'Remove',
  call: 'Whom they call',
  callName: 'Name',
  callPhone: 'Phone',
  orCall: 'If nobody answers',
  notes: 'A line of your own for the feeding plan',
  keep: 'Keep',
  kept: 'Kept.',
  milk: MILK_WORDS_EN,
};
