/** Makes a plan from stored data. */
import { type BabyRef, keyOf } from '../../base/babies.ts';
import { ageInDays, dayOf } from '../../base/calendar.ts';
import { type PackingAnswer, packFor } from '../../planning/bag/packing.ts';
import { type PackingAsk, readPackingAsk } from '../../planning/bag/packing-ask.ts';
import { type PackingSettings, readPackingSettings } from '../../planning/bag/packing-settings.ts';
import { onHand } from '../../planning/milk/ledger.ts';
import type { Ledger, PromisedMilk } from '../../planning/milk/ledger-state.ts';
import type { Container } from '../../planning/milk/milk.ts';
import { awayDayOf } from '../../planning/milk/promises.ts';
import { storedLedger } from '../../planning/milk/stored-ledger.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';
import { knownFeeds } from './known-from-store.ts';

export interface Surroundings {
  nowMs: () => number;
  /** The family's, by its IANA name; it may change while the program runs. */
  readonly zone: string;
}

/** Prefix of the names of all plans of a baby. */
const ofBaby = (baby: BabyRef): string => `${(keyOf(baby) || 'baby').slice(0, 50)} `;

/** Name of a plan: one baby, one time away. Another place on the same day is another plan. */
const planName = (baby: BabyRef, { day, from }: PackingAsk): string => `${ofBaby(baby)}${day} ${from}`;

export interface Answered {
  answer: PackingAnswer;
  name: string;
  /** Null where no milk was ever entered. */
  ledger: Ledger | null;
}

/**
 * The plan for a request (checked or not), from milk that is not reserved for another plan.
 * @param milk used instead of the milk list; null: assume enough
 */
export function planFor(
  store: FeedJournal,
  asked: unknown,
  baby: BabyRef,
  surroundings: Surroundings,
  { milk, settings }: { milk?: readonly Container[] | null; settings?: PackingSettings } = {},
): Answered {
  const now = surroundings.nowMs();
  const ask = readPackingAsk(asked);
  const name = planName(baby, ask);
  const kept = store.readMilkEvents();
  const ledger = kept.length === 0 ? null : storedLedger(kept, now).ledger;
  const promises = ledger ? promisesOf(ledger, baby) : [];
  const answer = packFor(ask, {
    feeds: knownFeeds(store, baby, now),
    milk: milk === undefined ? ledger && onHand(ledger, { name, atMs: now }) : milk,
    settings: settings ?? readPackingSettings(store.readPacking()),
    answers: answersOf(store, baby, surroundings.zone),
    promises,
    away: ledger ? promises.flatMap((promise) => awayDayOf(ledger, promise) ?? []) : [],
    nowMs: now,
    zone: surroundings.zone,
  });
  return { answer, name, ledger };
}

const promisesOf = ({ promises }: Ledger, baby: BabyRef): PromisedMilk[] =>
  Object.entries(promises)
    .filter(([plan]) => plan.startsWith(ofBaby(baby)))
    .map(([, promise]) => promise);

const SIX_WEEKS_DAYS = 42;

/** "Under six weeks old, or slow to gain" may have been answered with yes only because of the age. */
function answersOf(
  store: FeedJournal,
  { id }: BabyRef,
  zone: string,
): { bornEarly: boolean; slowToGain: boolean } {
  const baby = id === null ? null : store.getBaby(id);
  if (!baby) return { bornEarly: false, slowToGain: false };
  const { answers, birthDate, answeredAtMs } = baby;
  const answeredOn = dayOf(answeredAtMs, zone);
  const wasNew =
    birthDate !== null && birthDate <= answeredOn && ageInDays(birthDate, answeredOn) < SIX_WEEKS_DAYS;
  return {
    bornEarly: answers['born-early'] === true,
    slowToGain: answers['newborn-or-slow-gain'] === true && !wasNew,
  };
}

/** @returns null where no milk was ever entered */
export function milkOnHand(store: FeedJournal, nowMs: number): Container[] | null {
  const kept = store.readMilkEvents();
  return kept.length === 0 ? null : onHand(storedLedger(kept, nowMs).ledger);
}
