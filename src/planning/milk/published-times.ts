/** Published times for milk, each with at least one authority, and differing times beside it. Where they differ the shorter comes first. */

/** Place and state of milk, as far as a clock depends on it. */
export type Situation =
  | 'room'
  | 'cooler'
  | 'fridge'
  | 'freezer'
  | 'thawed-fridge'
  | 'thawed-room'
  | 'warmed'
  | 'drunk-from'
  | 'after-feed'
  | 'made'
  | 'made-fridge'
  | 'feed-started';

export interface MilkTime {
  situation: Situation;
  hours: number;
  /** What starts the clock, in plain words. */
  from: string;
  source: string;
}

/** Read August 2026, in copies of the chart "Storage and preparation of breast milk" and of its questions and answers. */
const CDC = 'CDC, storage and preparation of breast milk';
/** National Health Service, England: read August 2026 in other pages that quote it, not at its own. */
const NHS = 'NHS, expressing and storing breast milk (quoted by others)';
const CDC_FORMULA = 'CDC, infant formula preparation and storage';
const DAY = 24;

export const EXPRESSED_TIMES: readonly MilkTime[] = [
  {
    situation: 'room',
    hours: 4,
    from: 'when it was expressed, at 77 °F (25 °C) or colder',
    source: `${CDC}; beside it 6 hours (${NHS})`,
  },
  {
    situation: 'cooler',
    hours: DAY,
    from: 'when it went into an insulated cooler with frozen ice packs',
    source: `${CDC}, on the way; the same for milk that was cold before (${NHS})`,
  },
  {
    situation: 'fridge',
    hours: 4 * DAY,
    from: 'when it was expressed, at 40 °F (4 °C)',
    source: `${CDC}; beside it 4 days, 5 to 8 if very clean (ABM Clinical Protocol 8, 2017, from memory); 8 days, or 3 in a fridge above 4 °C (${NHS})`,
  },
  {
    situation: 'freezer',
    hours: 182 * DAY,
    from: 'when it was expressed, at 0 °F (−18 °C): 6 months is best',
    source: `${CDC}; ABM Clinical Protocol 8 (2017, from memory); up to 6 months (${NHS})`,
  },
  {
    situation: 'freezer',
    hours: 365 * DAY,
    from: 'when it was expressed, at 0 °F (−18 °C): up to 12 months is acceptable',
    source: `${CDC}; ABM Clinical Protocol 8 (2017, from memory)`,
  },
  {
    situation: 'thawed-fridge',
    hours: DAY,
    from: 'when it was fully thawed; never refreeze',
    source: `${CDC}; the same in a hospital’s leaflet (NHS Lothian)`,
  },
  {
    situation: 'thawed-room',
    hours: 1,
    from: 'when thawed milk came to room temperature: 1 to 2 hours, the shorter here',
    source: CDC,
  },
  { situation: 'warmed', hours: 2, from: 'when it was warmed', source: `${CDC} (this line from memory)` },
  {
    situation: 'drunk-from',
    hours: 1,
    from: 'when the baby first drank from it',
    source: `${NHS}; beside it 2 hours after the feed (${CDC})`,
  },
  {
    situation: 'after-feed',
    hours: 2,
    from: 'when the baby finished feeding',
    source: `${CDC}; beside it 1 hour once the baby has drunk (${NHS})`,
  },
];

export const FORMULA_TIMES: readonly MilkTime[] = [
  {
    situation: 'made',
    hours: 2,
    from: 'when it was made',
    source: `${CDC_FORMULA}; WHO/FAO 2007, powdered formula: unchilled within 2 hours`,
  },
  {
    situation: 'made-fridge',
    hours: DAY,
    from: 'when it was made and put into the fridge at once',
    source: `${CDC_FORMULA}; WHO/FAO 2007`,
  },
  {
    situation: 'feed-started',
    hours: 1,
    from: 'when the feed started; what is left then is thrown away',
    source: CDC_FORMULA,
  },
];
