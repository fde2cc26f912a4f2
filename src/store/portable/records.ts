/** Selects the feeds of an export, and makes each record. */
import { babyCalled, isOf, type KnownBaby } from '../../base/babies.ts';
import { PlainError } from '../../base/errors.ts';
import type { Baby } from '../../feed/record/baby.ts';
import type { FeedRow, KeptFeed } from '../../feed/record/feed.ts';
import type { HandFeed, KeptMilkEvent } from '../../feed/record/written-by-hand.ts';
import { feedsOf as ofBaby } from '../database/feed-list.ts';
import type { FeedStore } from '../feed-store.ts';
import { EXPORT_FORMAT, EXPORT_VERSION, type FeedExport, type HandFeedExport } from './format.ts';

/** What to export. Without range and baby it is everything: the milk ledger, calibrations and settings too. */
export interface ExportChoice {
  fromMs?: number;
  /** Not included. */
  toMs?: number;
  /** Name or id of one baby. */
  baby?: string;
  /** Called after each feed with the number done and the total. */
  onProgress?: (done: number, of: number) => void;
}

/** @returns the feeds of a choice, oldest first; open feeds are left out */
function* feedsOf(store: FeedStore, choice: Choice): Generator<KeptFeed> {
  const listed = listOf(store, choice);
  for (const [i, { id }] of listed.entries()) {
    const feed = store.get(id);
    if (feed && feed.state !== 'open') yield feed;
    choice.onProgress?.(i + 1, listed.length);
  }
}

/** The choice with the baby that was found. */
type Choice = Omit<ExportChoice, 'baby'> & { baby?: KnownBaby };

/** @throws PlainError export-nobody, baby-which */
function choiceOf(store: FeedStore, { baby: who, ...range }: ExportChoice): Choice {
  if (who === undefined) return range;
  const all = store.allBabies();
  const baby = babyCalled(
    all.filter(({ id, mayBe }) => id !== null || mayBe.length === 0),
    who,
  );
  if (baby) return { ...range, baby };
  throw new PlainError(
    'export-nobody',
    `Nothing is kept of a baby called ${who}. Nothing was exported.`,
    `Kept are: ${all.map(({ name, id }) => name ?? id).join(', ') || 'no babies with a name'}.`,
  );
}

const listOf = (store: FeedStore, { baby, onProgress: _, ...range }: Choice) =>
  store
    .list({ ...range, ...(baby && ofBaby(baby)), discarded: true })
    .sort((a, b) => a.atMs - b.atMs || (a.id < b.id ? -1 : 1));

/** Including those taken back. */
const handFeedsOf = (store: FeedStore, { baby, onProgress: _, ...range }: Choice): HandFeed[] =>
  store.listHandFeeds({ ...range, withdrawn: true }).filter((feed) => !baby || isOf(feed, baby));

/** All babies in an export of everything, the one of a choice, none in an export of days. */
const babiesOf = (store: FeedStore, choice: Choice): Baby[] =>
  store.listBabies().filter(({ id }) => isEverything(choice) || id === choice.baby?.id);

export const isEverything = ({ fromMs, toMs, baby }: ExportChoice | Choice): boolean =>
  fromMs === undefined && toMs === undefined && baby === undefined;

/** One line of an export, with its object if there is a table for it. */
export interface Exported {
  record: object;
  baby?: Baby;
  feed?: KeptFeed;
  handFeed?: HandFeed;
  milk?: KeptMilkEvent;
}

/** Settings of this machine, which would be wrong on another. */
const OF_THIS_MACHINE: ReadonlySet<string> = new Set(['archive']);

/** All records of a choice, one by one, without keeping them in memory. The last record has their number. */
export function* exportedOf(store: FeedStore, choice: ExportChoice): Generator<Exported> {
  let records = 0;
  for (const one of withoutEnd(store, choice)) {
    records++;
    yield one;
  }
  yield { record: { record: 'end', records } };
}

function* withoutEnd(store: FeedStore, asked: ExportChoice): Generator<Exported> {
  const choice = choiceOf(store, asked);
  // Babies come first, since feeds refer to them.
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
