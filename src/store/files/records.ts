/** Which feeds an export holds, and each as a record of it. */
import type { Baby } from '../../feed/baby.ts';
import type { FeedRow, KeptFeed } from '../../feed/feed.ts';
import type { HandFeed, KeptMilkEvent } from '../../feed/kept.ts';
import type { FeedStore } from '../feed-store.ts';
import { EXPORT_FORMAT, EXPORT_VERSION, type FeedExport, type HandFeedExport } from './format.ts';

/** What to export. Without range and baby it is everything: the milk ledger, calibrations and settings too. */
export interface ExportChoice {
  fromMs?: number;
  /** Not in it. */
  toMs?: number;
  /** Name or id of one baby. */
  baby?: string;
}

/** @returns the feeds of a choice, oldest first; one that still runs is left out */
function* feedsOf(store: FeedStore, choice: ExportChoice): Generator<KeptFeed> {
  for (const { id } of listOf(store, choice)) {
    const feed = store.get(id);
    if (feed && feed.state !== 'open') yield feed;
  }
}

function listOf(store: FeedStore, { baby, ...range }: ExportChoice) {
  const all = { ...range, discarded: true };
  const found = baby === undefined ? store.list(all) : store.list({ ...all, babyName: baby });
  const byId = baby === undefined ? [] : store.list({ ...all, babyId: baby });
  const ids = new Set(found.map(({ id }) => id));
  return [...found, ...byId.filter(({ id }) => !ids.has(id))].sort(
    (a, b) => a.atMs - b.atMs || (a.id < b.id ? -1 : 1),
  );
}

/** Those taken back too: they were written. */
function handFeedsOf(store: FeedStore, { baby, ...range }: ExportChoice): HandFeed[] {
  const all = store.listHandFeeds({ ...range, withdrawn: true });
  const alike = (name: string | null) => name?.toLowerCase() === baby?.toLowerCase();
  return baby === undefined ? all : all.filter((feed) => alike(feed.babyName) || alike(feed.babyId));
}

/** All babies in an export of everything, the one of a choice, none in an export of days. */
function babiesOf(store: FeedStore, choice: ExportChoice): Baby[] {
  if (isEverything(choice)) return store.listBabies();
  const wanted = choice.baby?.toLowerCase();
  return store.listBabies().filter(({ id, name }) => [id, name.toLowerCase()].includes(wanted ?? ''));
}

export const isEverything = ({ fromMs, toMs, baby }: ExportChoice): boolean =>
  fromMs === undefined && toMs === undefined && baby === undefined;

/** One line of an export, with the thing that it tells of where there is a table for it. */
export interface Exported {
  record: object;
  baby?: Baby;
  feed?: KeptFeed;
  handFeed?: HandFeed;
  milk?: KeptMilkEvent;
}

/** What is set for this machine alone: it would be wrong on another. */
const OF_THIS_MACHINE: ReadonlySet<string> = new Set(['archive']);

/** All of a choice, one after another; nothing is held but the one at hand. The last record says how many came before it. */
export function* exportedOf(store: FeedStore, choice: ExportChoice): Generator<Exported> {
  let records = 0;
  for (const one of withoutEnd(store, choice)) {
    records++;
    yield one;
  }
  yield { record: { record: 'end', records } };
}

function* withoutEnd(store: FeedStore, choice: ExportChoice): Generator<Exported> {
  // Babies first: feeds name them.
  for (const baby of babiesOf(store, choice)) yield { record: { record: 'baby', baby }, baby };
  for (const feed of feedsOf(store, choice)) yield { record: feedRecord(feed), feed };
  for (const handFeed of handFeedsOf(store, choice)) yield { record: handFeedRecord(handFeed), handFeed };
  if (!isEverything(choice)) return;
  for (const milk of store.readMilkEvents()) {
    const { no, ...event } = milk;
    yield { record: { record: 'milk', no, event }, milk };
  }
  for (const kept of store.calibrations()) yield { record: { record: 'calibration', ...kept } };
  for (const kept of store.settings()) {
    if (!OF_THIS_MACHINE.has(kept.name)) yield { record: { record: 'setting', ...kept } };
  }
}

/** The first line of an export. */
export const exportHead = (nowMs: number, softwareVersion: string): object => ({
  format: EXPORT_FORMAT,
  version: EXPORT_VERSION,
  exportedAt: new Date(nowMs).toISOString(),
  softwareVersion,
});

const signedRecord = <C extends { madeAtMs: number; by: string | null }>({
  madeAtMs,
  by,
  ...correction
}: C) => ({
  madeAtMs,
  by,
  correction,
});

function feedRecord(feed: KeptFeed): FeedExport {
  const column = <K extends keyof FeedRow>(key: K): FeedRow[K][] => feed.rows.map((row) => row[key]);
  const { captureFile: _file, corrected: _corrected, rows: _rows, corrections = [], ...rest } = feed;
  return {
    record: 'feed',
    ...rest,
    softwareVersion: feed.softwareVersion ?? 'unknown',
    rows: {
      atSec: column('atSec'),
      milkMl: column('milkMl'),
      flowMlPerMin: column('flowMlPerMin'),
      intakeMl: column('intakeMl'),
      teatInMouth: column('teatInMouth'),
      tiltDeg: column('tiltDeg'),
    },
    corrections: corrections.map(signedRecord),
  } as unknown as FeedExport;
}

const handFeedRecord = ({ id, writtenAtMs, original, corrections }: HandFeed): HandFeedExport =>
  ({
    record: 'hand-feed',
    id,
    writtenAtMs,
    entry: original,
    corrections: corrections.map(signedRecord),
  }) as HandFeedExport;
