/** Data for the next shift about each child: feeds, left-over milk and until when it may be used, notes, who fed. */
import { readPackingSettings } from '../../planning/bag/packing-settings.ts';
import { containerStates } from '../../planning/milk/ledger.ts';
import { type LocalTime, leftOverClocks } from '../../planning/milk/milk-times.ts';
import { storedLedger } from '../../planning/milk/stored-ledger.ts';
import { feedsOfBaby } from '../../review/index.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';
import type { HandoverAnswer, HandoverChild, HandoverFeed, HandoverMilk } from './ward-answers.ts';

export interface HandoverAsked {
  fromMs: number;
  toMs: number;
  zone: string;
  nowMs: number;
  /** Only these children, wherever they are. */
  only?: readonly string[];
}

/** @returns the answer, and the children in it */
export function handoverOf(
  store: FeedJournal,
  asked: HandoverAsked,
): { answer: HandoverAnswer; of: string[] } {
  const { fromMs, toMs, zone, nowMs, only } = asked;
  const { centerTimes } = readPackingSettings(store.readPacking());
  const stays = store
    .ward(({ records }) => records.stays())
    .filter((stay) => stay.fromMs < toMs && (stay.untilMs === null || stay.untilMs > fromMs));
  const cots = new Map(stays.map(({ babyId, cot }) => [babyId, cot]));
  const names = new Map(store.listBabies().map(({ id, name }) => [id, name]));
  const of = only ? [...only] : [...cots.keys()];
  const milk = milkBy(store, nowMs, centerTimes);
  const between = store.between({ fromMs, toMs });
  const children = of.map((babyId): HandoverChild => {
    const name = names.get(babyId) ?? null;
    const feeds = feedsOfBaby(between, { id: babyId, name })
      .filter(({ isOpen }) => !isOpen)
      .map((feed): HandoverFeed => {
        const { atMs, kind, takenMl, durationSec, caregiver, note } = feed;
        const leftMl = feed.leftMl !== null && feed.leftMl >= 1 ? feed.leftMl : null;
        const endedAtMs = atMs + (durationSec ?? 0) * 1000;
        const clocks =
          leftMl === null || feed.milkKind === null
            ? []
            : leftOverClocks(feed.milkKind, { feedStartedAtMs: atMs, feedEndedAtMs: endedAtMs }, centerTimes);
        return {
          atMs,
          kind,
          takenMl: takenMl === null ? null : Math.max(0, takenMl),
          leftMl,
          leftUntilMs: clocks[0]?.passesAtMs ?? null,
          minutes: durationSec === null ? null : durationSec / 60,
          fedBy: caregiver,
          note,
        };
      });
    return { name: name ?? babyId, cot: cots.get(babyId) ?? '', feeds, milk: milk.get(babyId) ?? [] };
  });
  return { answer: { fromMs, toMs, zone, children: children.sort(byCot), trailMark: null }, of };
}

/** Order by cot, never by what the children drink. */
const byCot = (one: HandoverChild, other: HandoverChild): number =>
  one.cot.localeCompare(other.cot, 'en', { numeric: true }) || one.name.localeCompare(other.name);

/** Milk of each child in the ledger. Milk without a child is left out. */
function milkBy(store: FeedJournal, nowMs: number, local: readonly LocalTime[]): Map<string, HandoverMilk[]> {
  const events = store.readMilkEvents();
  const owner = new Map<string, string>();
  for (const { container, babyId } of events) if (container && babyId) owner.set(container, babyId);
  const { ledger } = storedLedger(
    events.map(({ no, entry }) => ({ no, entry })),
    nowMs,
  );
  const milk = new Map<string, HandoverMilk[]>();
  for (const { container, deciding } of containerStates(ledger, nowMs, local)) {
    const babyId = owner.get(container.id);
    if (babyId === undefined) continue;
    const line = {
      label: container.id,
      ml: container.volumeMl,
      useByMs: deciding.passesAtMs,
      isLeftOver: ledger.containers[container.id]!.offered !== null,
    };
    milk.set(babyId, [...(milk.get(babyId) ?? []), line]);
  }
  return milk;
}
