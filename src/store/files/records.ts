/** Which feeds an export holds, and each as a record of it. */
import type { Baby } from '../../feed/baby.ts';
import type { FeedRow, KeptFeed } from '../../feed/feed.ts';
import type { HandFeed } from '../../feed/kept.ts';
import type { FeedStore } from '../feed-store.ts';
import type { FeedExport, HandFeedExport } from './format.ts';

/** What to export. Without range and baby it is everything: the milk ledger, calibrations and settings too. */
export interface ExportChoice {
  fromMs?: number;
  /** Not in it. */
  toMs?: number;
  /** Name or id of one baby. */
  baby?: string;
}

/** @returns the feeds of a choice, oldest first; one that still runs is left out */
export function* feedsOf(store: FeedStore, choice: ExportChoice): Generator<KeptFeed> {
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
export function handFeedsOf(store: FeedStore, { baby, ...range }: ExportChoice): HandFeed[] {
  const all = store.listHandFeeds({ ...range, withdrawn: true });
  const alike = (name: string | null) => name?.toLowerCase() === baby?.toLowerCase();
  return baby === undefined ? all : all.filter((feed) => alike(feed.babyName) || alike(feed.babyId));
}

/** All babies in an export of everything, the one of a choice, none in an export of days. */
export function babiesOf(store: FeedStore, choice: ExportChoice): Baby[] {
  if (isEverything(choice)) return store.listBabies();
  const wanted = choice.baby?.toLowerCase();
  return store.listBabies().filter(({ id, name }) => [id, name.toLowerCase()].includes(wanted ?? ''));
}

export const isEverything = ({ fromMs, toMs, baby }: ExportChoice): boolean =>
  fromMs === undefined && toMs === undefined && baby === undefined;

const signedRecord = <C extends { madeAtMs: number; by: string | null }>({
  madeAtMs,
  by,
  ...correction
}: C) => ({
  madeAtMs,
  by,
  correction,
});

export function feedRecord(feed: KeptFeed): FeedExport {
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

export const handFeedRecord = ({ id, writtenAtMs, original, corrections }: HandFeed): HandFeedExport =>
  ({
    record: 'hand-feed',
    id,
    writtenAtMs,
    entry: original,
    corrections: corrections.map(signedRecord),
  }) as HandFeedExport;
