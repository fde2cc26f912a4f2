/**
 * Published times for milk, and when they pass. Nothing here says that milk is safe; it says which published time has
 * passed. Rules of the place and of the center come first.
 */
import { HOUR_MS } from './calendar.ts';
import type { Container, MilkKind } from './milk.ts';

/** Where milk is and what has happened to it, as far as a clock is concerned. */
export type Situation =
  | 'room'
  | 'fridge'
  | 'freezer'
  | 'thawed-fridge'
  | 'thawed-room'
  | 'warmed'
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

const CDC = 'CDC, storage and preparation of breast milk';
const CDC_FORMULA = 'CDC, infant formula preparation and storage';
const DAY = 24;

export const EXPRESSED_TIMES: readonly MilkTime[] = [
  { situation: 'room', hours: 4, from: 'when it was expressed, at 77 °F (25 °C) or colder', source: CDC },
  {
    situation: 'fridge',
    hours: 4 * DAY,
    from: 'when it was expressed, at 40 °F (4 °C)',
    source: `${CDC}; ABM Clinical Protocol 8 (2017, from memory): 4 days, 5 to 8 if very clean`,
  },
  {
    situation: 'freezer',
    hours: 182 * DAY,
    from: 'when it was expressed, at 0 °F (−18 °C): 6 months is best',
    source: `${CDC}; ABM Clinical Protocol 8 (2017, from memory)`,
  },
  {
    situation: 'freezer',
    hours: 365 * DAY,
    from: 'when it was expressed, at 0 °F (−18 °C): up to 12 months is acceptable',
    source: `${CDC}; ABM Clinical Protocol 8 (2017, from memory)`,
  },
  { situation: 'thawed-fridge', hours: DAY, from: 'when it was fully thawed; never refreeze', source: CDC },
  {
    situation: 'thawed-room',
    hours: 1,
    from: 'when thawed milk came to room temperature: 1 to 2 hours, the shorter here',
    source: CDC,
  },
  { situation: 'warmed', hours: 2, from: 'when it was warmed', source: `${CDC} (this line from memory)` },
  { situation: 'after-feed', hours: 2, from: 'when the baby finished feeding', source: CDC },
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

/** A rule of the place or of the center, as she writes it down. */
export interface LocalTime {
  situation: Situation;
  hours: number;
  /** Whose rule: "Center's sheet". */
  name: string;
}

/** One clock of one container. */
export interface MilkClock {
  situation: Situation;
  startedAtMs: number;
  passesAtMs: number;
  from: string;
  source: string;
  /** True for a rule of the place, which comes first. */
  local: boolean;
}

/** The feed that a bottle was offered at. A top-up of the same feed belongs to it and starts nothing anew. */
export interface Offered {
  feedStartedAtMs: number;
  /** Null while the baby is feeding. */
  feedEndedAtMs: number | null;
}

/**
 * All clocks of a container that have started, rules of the place first, then by when they pass. Mixed milk has the clocks of both
 * kinds, so that the stricter decides.
 */
export function clocksOf(
  container: Container,
  offered: Offered | null = null,
  local: readonly LocalTime[] = [],
): MilkClock[] {
  const clocks = startsOf(container, offered).flatMap(({ situation, startedAtMs }) => {
    const published = timesFor(container.kind).filter((time) => time.situation === situation);
    return [
      ...local
        .filter((time) => time.situation === situation)
        .map(({ hours, name }) => ({
          hours,
          from: published[0]?.from ?? situation,
          source: name,
          local: true,
        })),
      ...published.map((time) => ({ ...time, local: false })),
    ].map(({ hours, from, source, local: isLocal }) => ({
      situation,
      startedAtMs,
      passesAtMs: startedAtMs + hours * HOUR_MS,
      from,
      source,
      local: isLocal,
    }));
  });
  return clocks.sort((a, b) => Number(b.local) - Number(a.local) || a.passesAtMs - b.passesAtMs);
}

const timesFor = (kind: MilkKind): readonly MilkTime[] =>
  kind === 'expressed'
    ? EXPRESSED_TIMES
    : kind === 'formula'
      ? FORMULA_TIMES
      : [...EXPRESSED_TIMES, ...FORMULA_TIMES];

function startsOf(
  { kind, place, expressedAtMs, thawedAtMs, warmedAtMs }: Container,
  offered: Offered | null,
): { situation: Situation; startedAtMs: number }[] {
  const starts: { situation: Situation; startedAtMs: number }[] = [];
  if (kind !== 'formula') {
    if (thawedAtMs !== null) {
      starts.push({ situation: place === 'room' ? 'thawed-room' : 'thawed-fridge', startedAtMs: thawedAtMs });
    } else if (warmedAtMs === null) starts.push({ situation: place, startedAtMs: expressedAtMs });
    if (warmedAtMs !== null) starts.push({ situation: 'warmed', startedAtMs: warmedAtMs });
    if (offered?.feedEndedAtMs != null)
      starts.push({ situation: 'after-feed', startedAtMs: offered.feedEndedAtMs });
  }
  if (kind !== 'expressed') {
    const chilled = place === 'fridge' && warmedAtMs === null && offered === null;
    starts.push({ situation: chilled ? 'made-fridge' : 'made', startedAtMs: expressedAtMs });
    if (offered) starts.push({ situation: 'feed-started', startedAtMs: offered.feedStartedAtMs });
  }
  return starts;
}

/**
 * The clock that decides: of the rules of the place where they speak, else of the published ones; the first to pass.
 * Freezer: 6 months is "best" and only said; 12 months decides. Null when no rule speaks.
 */
export function decidingClock(
  container: Container,
  offered: Offered | null = null,
  local: readonly LocalTime[] = [],
): MilkClock | null {
  const clocks = clocksOf(container, offered, local);
  const ruled = new Set(clocks.filter((clock) => clock.local).map(({ situation }) => situation));
  const deciding = clocks.filter(({ situation, local: isLocal, from }) =>
    ruled.has(situation) ? isLocal : !from.endsWith('is best'),
  );
  return deciding.sort((a, b) => a.passesAtMs - b.passesAtMs)[0] ?? null;
}
