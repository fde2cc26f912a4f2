/**
 * Published times for milk, and when they pass, from the whole history of the milk. Nothing here says that milk is safe; it says which published time
 * has passed. Rules of the place and of the center have priority.
 */
import { HOUR_MS } from '../../base/calendar.ts';
import type { Container, MilkKind } from './milk.ts';
import type { Stay, Strand } from './milk-stays.ts';
import { isFrozen, type Place } from './places.ts';
import { EXPRESSED_TIMES, FORMULA_TIMES, type Situation } from './published-times.ts';

/** A rule of the place or of the center, as the parent entered it. */
export interface LocalTime {
  situation: Situation;
  hours: number;
  /** Whose rule: "Center's sheet". */
  name: string;
}

/** One clock of one container: it ran, or runs, at one place. */
export interface MilkClock {
  situation: Situation;
  startedAtMs: number;
  passesAtMs: number;
  /** The whole time, published or by the rule of the place. */
  hours: number;
  /** Part of that time, 0 to 1, that was used up at other places before. */
  usedBefore: number;
  from: string;
  source: string;
  /** True for a rule of the place, which has priority. */
  local: boolean;
}

/** The feed that a bottle was offered at. A top-up belongs to the same feed and restarts nothing. */
export interface Offered {
  feedStartedAtMs: number;
  /** Null while the baby is feeding. */
  feedEndedAtMs: number | null;
}

export interface Judged {
  /**
   * Clocks that have started: rules of the place first, then by when they pass. Once a clock has passed it stays passed, and no clock that would start
   * later is shown.
   */
  clocks: MilkClock[];
  /**
   * The first clock to pass: of the rules of the place if there are any, else of the published times. Where two authorities differ both are
   * shown and the shorter decides: in the freezer 6 months; 12 months (acceptable) are shown beside it.
   */
  deciding: MilkClock;
  /** It was moved, thawed, warmed or poured after its time had passed; that does not give it a new time. */
  passedBeforeMove: boolean;
}

type Limit = Pick<MilkClock, 'hours' | 'from' | 'source' | 'local'>;
type LimitOf = (situation: Situation) => Limit;

const isBest = ({ from }: { from: string }): boolean => from.endsWith('is best');

/** @param best if two times are published: the one that is only shown */
const published =
  (best: boolean): LimitOf =>
  (situation) => {
    const times = [...EXPRESSED_TIMES, ...FORMULA_TIMES].filter((time) => time.situation === situation);
    return { ...(times.find((time) => isBest(time) === best) ?? times[0]!), local: false };
  };

const ruled =
  (local: readonly LocalTime[]): LimitOf =>
  (situation) => {
    const usual = published(true)(situation);
    const [rule] = local.filter((time) => time.situation === situation).sort((a, b) => a.hours - b.hours);
    return rule ? { hours: rule.hours, from: usual.from, source: rule.name, local: true } : usual;
  };

/** Successive clocks that continue one another; null while none of them runs. Time that was used up stays used up. */
type Line = readonly { sinceMs: number; situation: Situation | null }[];

const lineOf = (stays: readonly Stay[], situationOf: (stay: Stay) => Situation | null): Line =>
  stays
    .map((stay) => ({ sinceMs: stay.sinceMs, situation: situationOf(stay) }))
    .filter(({ situation }, i, all) => i === 0 || situation !== all[i - 1]!.situation);

const isCold = (place: Place): boolean => place === 'fridge' || place === 'cooler';

/** Milk in a sleeve counts as at room temperature. */
function storedAs(place: Place): Situation | null {
  if (isFrozen({ place })) return null;
  return place === 'fridge' || place === 'cooler' ? place : 'room';
}

/** The lines of one part of what is in a container. */
function linesOf({ kind, stays }: Strand, offered: Offered | null): Record<string, Line> {
  // Once warmed, milk no longer counts as stored: the clock of its last place runs on beside that of warmed milk.
  const stored = stays.filter(({ warmed }) => !warmed);
  return {
    ...(kind !== 'formula' && {
      stored: lineOf(stored, ({ place }) => storedAs(place)),
      frozen: lineOf(stays, (stay) => (isFrozen(stay) ? 'freezer' : null)),
      thawed: lineOf(stays, ({ thawed, place }) =>
        thawed ? (isCold(place) ? 'thawed-fridge' : 'thawed-room') : null,
      ),
      warmed: lineOf(stays, ({ warmed }) => (warmed ? 'warmed' : null)),
    }),
    ...(kind !== 'expressed' && { made: madeLine(stays, offered) }),
  };
}

/** No time is published for formula in a freezer, so only the fridge counts as cold; once a feed started nothing does. */
function madeLine(stays: readonly Stay[], offered: Offered | null): Line {
  const startedMs = offered?.feedStartedAtMs ?? Number.POSITIVE_INFINITY;
  const [first, ...more] = stays;
  const before = [first!, ...more.filter(({ sinceMs }) => sinceMs < startedMs)];
  const since = offered ? [{ ...first!, sinceMs: startedMs, warmed: true }] : [];
  return lineOf([...before, ...since], ({ place, warmed }) =>
    place === 'fridge' && !warmed ? 'made-fridge' : 'made',
  );
}

function feedLines(kind: MilkKind, offered: Offered | null): Record<string, Line> {
  if (!offered) return {};
  const { feedStartedAtMs, feedEndedAtMs } = offered;
  return {
    ...(kind !== 'formula' &&
      feedEndedAtMs !== null && { left: [{ sinceMs: feedEndedAtMs, situation: 'after-feed' as const }] }),
    ...(kind !== 'formula' && { drunk: [{ sinceMs: feedStartedAtMs, situation: 'drunk-from' as const }] }),
    ...(kind !== 'expressed' && {
      started: [{ sinceMs: feedStartedAtMs, situation: 'feed-started' as const }],
    }),
  };
}

/** The clock of a line that has passed, else the one that runs now; null if none does. */
function clockOf(line: Line, limitOf: LimitOf): MilkClock | null {
  let usedBefore = 0;
  for (const [i, { sinceMs, situation }] of line.entries()) {
    if (situation === null) continue;
    const limit = limitOf(situation);
    const wholeMs = limit.hours * HOUR_MS;
    const startedAtMs = situation === 'freezer' ? line[0]!.sinceMs : sinceMs;
    const passesAtMs = Math.max(sinceMs, Math.floor(startedAtMs + wholeMs * (1 - usedBefore)));
    const next = line[i + 1];
    if (!next || passesAtMs <= next.sinceMs)
      return { ...limit, situation, startedAtMs, passesAtMs, usedBefore };
    usedBefore += (next.sinceMs - sinceMs) / wholeMs;
  }
  return null;
}

const byPassing = (a: MilkClock, b: MilkClock): number => a.passesAtMs - b.passesAtMs;

/** For each kind of line the clock that passes first, of all parts in the container. */
function clocksBy(limitOf: LimitOf, parts: readonly Record<string, Line>[]): MilkClock[] {
  const first = new Map<string, MilkClock>();
  for (const [name, line] of parts.flatMap((part) => Object.entries(part))) {
    const clock = clockOf(line, limitOf);
    const known = first.get(name);
    if (clock && (!known || clock.passesAtMs < known.passesAtMs)) first.set(name, clock);
  }
  return [...first.values()];
}

/**
 * The times of a container, from the history of all its milk. Each published clock runs at its own place. Where one follows
 * another (room and fridge; thawed milk in the fridge and out of it; formula) the used-up share of the first counts for the second:
 * our own rule, no source, never longer than what is published. The freezer stops the clocks of room and fridge and has its own, which starts with
 * expressing; thawed, warmed and left-over milk have theirs beside the earlier ones. The first to pass decides, for good.
 * @param local rules of the place, before the published ones
 */
export function judged(
  { kind, strands }: Container,
  offered: Offered | null = null,
  local: readonly LocalTime[] = [],
): Judged {
  const parts = [...strands.map((strand) => linesOf(strand, offered)), feedLines(kind, offered)];
  const decisive = clocksBy(ruled(local), parts);
  // At every place a clock runs or has passed, so there is at least one.
  const deciding = decisive.toSorted(byPassing)[0]!;
  const told = [published(false), published(true)].flatMap((limitOf) => clocksBy(limitOf, parts));
  const keyOf = ({ situation, source, passesAtMs }: MilkClock): string =>
    `${situation} ${passesAtMs} ${source}`;
  const distinct = [...new Map([...told, ...decisive].map((clock) => [keyOf(clock), clock])).values()];
  return {
    clocks: distinct
      .filter((clock) => clock === deciding || clock.startedAtMs < deciding.passesAtMs)
      .sort((a, b) => Number(b.local) - Number(a.local) || byPassing(a, b)),
    deciding,
    passedBeforeMove: strands.some(({ stays }) => stays.at(-1)!.sinceMs >= deciding.passesAtMs),
  };
}

/**
 * Until when milk that a baby left may be used, by the rule for left-over milk alone: the milk's own clocks may pass before it.
 * @returns one clock for expressed milk, one for formula, both for milk that is mixed; the first to pass decides. Rules of the place stand in for published ones.
 */
export const leftOverClocks = (
  kind: MilkKind,
  offered: Offered,
  local: readonly LocalTime[] = [],
): MilkClock[] => clocksBy(ruled(local), [feedLines(kind, offered)]).sort(byPassing);

/** Whether the time of milk on hand has passed, or will have, at an instant. */
export const hasPassed = (container: Container, atMs: number, local: readonly LocalTime[]): boolean =>
  judged(container, null, local).deciding.passesAtMs <= atMs;
