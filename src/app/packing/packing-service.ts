/** The service of the pages and commands for packing and milk: joins store, planning and print. */

import { keyOf } from '../../base/babies.ts';
import { dayAfter, dayOf } from '../../base/calendar.ts';
import { FieldError, PlainError } from '../../base/errors.ts';
import { packedEntries, takenEntry } from '../../planning/bag/packed-entries.ts';
import { readPackingSettings } from '../../planning/bag/packing-settings.ts';
import { containerStates } from '../../planning/milk/ledger.ts';
import type { LedgerEntry } from '../../planning/milk/ledger-state.ts';
import type { Container } from '../../planning/milk/milk.ts';
import { hasPassed } from '../../planning/milk/milk-times.ts';
import { isFrozen } from '../../planning/milk/places.ts';
import {
  entriesOf,
  newEntries,
  proposals,
  type StoredEntry,
  storedLedger,
} from '../../planning/milk/stored-ledger.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';
import { askedBaby, knownBabies } from '../babies/known-babies.ts';
import { eveningsOf } from './evenings.ts';
import { endedFeeds } from './known-from-store.ts';
import type { MilkAnswer, PackingService, PackingStart } from './packing-answers.ts';
import { milkOnHand, planFor, type Surroundings } from './plan-for.ts';
import { sheetFor } from './sheets.ts';

const SHOWN_LINES = 40;

/** @param runningTeats names of nipples that by their measurement give milk faster than the pace without sucking */
export function packingService(
  store: FeedJournal,
  around: Surroundings,
  runningTeats: () => string[] = () => [],
): PackingService {
  const { nowMs } = around;
  const events = () => store.readMilkEvents().map(({ no, entry }) => ({ no, entry }));
  const service: PackingService = {
    start() {
      const now = nowMs();
      const today = dayOf(now, around.zone);
      const settings = readPackingSettings(store.readPacking());
      return {
        babies: knownBabies(store, now),
        settings,
        zone: around.zone,
        today,
        tomorrow: dayAfter(today),
        runningTeats: runningTeats(),
        onHand: amountsOf(milkOnHand(store, now), (container) =>
          hasPassed(container, now, settings.centerTimes),
        ),
      };
    },
    plan(asked) {
      const { baby, ask } = withBaby(asked);
      return planFor(store, ask, askedBaby(store, baby ?? '', nowMs()), around).answer;
    },
    keepSettings(data) {
      const settings = readPackingSettings(data);
      store.writePacking(settings);
      return settings;
    },
    milk() {
      return milkAnswer(store, nowMs(), around.zone);
    },
    enterMilk(data) {
      const now = nowMs();
      // Read the clock once: an entry must not be later than the time it is checked against.
      const entries = newEntries(
        events(),
        entriesAsked(store, data, { nowMs: () => now, zone: around.zone }),
        now,
      );
      keepEntries(store, entries);
      return milkAnswer(store, now, around.zone);
    },
    sheet: (name, ending, query) => sheetFor(store, name, ending, query, around),
  };
  return service;
}

function amountsOf(
  containers: Container[] | null,
  isPassed: (container: Container) => boolean,
): PackingStart['onHand'] {
  if (!containers) return null;
  const usable = containers.filter((one) => !one.heldBack && !isPassed(one));
  const sum = (frozen: boolean): number =>
    usable.filter((one) => isFrozen(one) === frozen).reduce((total, { volumeMl }) => total + volumeMl, 0);
  return { fridgeMl: sum(false), freezerMl: sum(true), containers: containers.length };
}

function withBaby(asked: unknown): { baby: string | null; ask: unknown } {
  if (asked === null || typeof asked !== 'object')
    throw new FieldError('packing-entry', '', 'The question is not understood.', 'Open the page anew.');
  const { baby = null, ...ask } = asked as { baby?: unknown };
  if (baby !== null && typeof baby !== 'string')
    throw new FieldError(
      'packing-entry',
      'baby',
      'The baby must be named by a text.',
      'Choose one of the list.',
    );
  return { baby, ask };
}

function milkAnswer(store: FeedJournal, nowMs: number, zone: string): MilkAnswer {
  const book = storedLedger(store.readMilkEvents(), nowMs);
  const { centerTimes } = readPackingSettings(store.readPacking());
  return {
    nowMs,
    zone,
    containers: containerStates(book.ledger, nowMs, centerTimes).map((state) => ({
      ...state,
      offered: book.ledger.containers[state.container.id]!.offered !== null,
    })),
    lines: book.lines.slice(-SHOWN_LINES).reverse(),
    leftOut: book.leftOut,
    totals: book.ledger.totals,
    proposals: proposals(book, endedFeeds(store, nowMs)),
    evenings: eveningsOf(book.ledger, nowMs, (plan) => babyNameOf(store, plan)),
    nextLabel: nextLabel(Object.keys(book.ledger.containers)),
  };
}

/** The present name of the baby of a plan. */
function babyNameOf(store: FeedJournal, plan: string): string | null {
  const isIts = (key: string): boolean => key !== '' && plan.startsWith(`${key} `);
  return store.allBabies().find((baby) => isIts(keyOf(baby)))?.name ?? null;
}

/** The next number for a label: one more than the highest. */
function nextLabel(labels: readonly string[]): string {
  const numbers = labels.filter((label) => /^\d{1,6}$/.test(label)).map(Number);
  return String(Math.max(0, ...numbers) + 1);
}

/** Entries as sent, or those of a confirmed feed or a packed bag. */
function entriesAsked(store: FeedJournal, data: unknown, surroundings: Surroundings): unknown {
  const nowMs = surroundings.nowMs();
  const { entries, confirm, packed, taken } = (data ?? {}) as {
    entries?: unknown;
    confirm?: { feed?: unknown; container?: unknown };
    packed?: unknown;
    taken?: unknown;
  };
  if (taken !== undefined) return entriesOfPlan(store, taken, 'taken', surroundings);
  if (packed !== undefined) return entriesOfPlan(store, packed, 'filled', surroundings);
  if (confirm === undefined || confirm === null) return entries;
  const book = storedLedger(store.readMilkEvents(), nowMs);
  const proposal = proposals(book, endedFeeds(store, nowMs)).find(({ feed }) => feed === confirm.feed);
  const container = proposal?.candidates.find((id) => id === confirm.container);
  if (!proposal || container === undefined)
    throw new PlainError(
      'proposal-gone',
      'That feed is in the list already, or that container cannot have been it.',
      'Look at the list again; nothing was changed.',
    );
  return entriesOf(proposal, book.ledger.containers[container]!.container);
}

/** The plan is computed again; it equals the one shown if nothing changed meanwhile. */
function entriesOfPlan(
  store: FeedJournal,
  asked: unknown,
  step: 'taken' | 'filled',
  surroundings: Surroundings,
): LedgerEntry[] {
  const { baby, ask } = withBaby(asked);
  const atMs = surroundings.nowMs();
  const whose = askedBaby(store, baby ?? '', atMs);
  const { answer, name, ledger } = planFor(store, ask, whose, surroundings);
  const { plan, trouble, fromMs, untilMs } = answer;
  if (ledger === null || !plan)
    throw new PlainError(
      trouble?.code ?? 'milk-missing',
      trouble?.message ?? 'There is no milk in the list to fill bottles from.',
      trouble?.remedy ?? 'Enter the milk first.',
    );
  const { shortChance, thrownMl } = plan.outcome;
  const claimed = { shortChance, modelChance: plan.modelChance, thrownMl, bottles: plan.bottles.length };
  const promise = { atMs, plan: name, fromMs, untilMs, feeds: answer.feeds, claimed };
  return step === 'taken'
    ? [takenEntry(plan.bottles, promise)]
    : packedEntries(plan.bottles, ledger, { day: answer.ask.day, plan: promise });
}

function keepEntries(store: FeedJournal, entries: readonly StoredEntry[]): void {
  store.appendMilkEvents(
    entries.map((entry) => ({
      atMs: entry.atMs,
      babyId: null,
      container: 'id' in entry ? entry.id : 'into' in entry ? entry.into : null,
      kind: entry.what,
      entry,
    })),
  );
}
