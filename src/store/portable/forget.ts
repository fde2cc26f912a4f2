/**
 * Deletes a baby and everything that belongs to it, for good: feeds with rows, cues and captures, feeds written in by hand, corrections, its part
 * of the milk ledger, the last answers. The file is then rewritten, so that nothing is left in free pages or in the log.
 * Earlier exports, backups and files handed on are not changed; traces may also remain on the disk itself below the files.
 */
import type { Captures } from '../captures/captures.ts';
import { listLeaving, removeLeaving } from '../captures/leaving.ts';
import { countIn, inTransaction, waysOf } from '../database/database.ts';
import type { FeedDatabase } from '../database/feed-database.ts';
import { Whose } from '../database/whose.ts';
import { plainly } from '../faults.ts';
import { WardRecords } from '../ward/ward-records.ts';
import { ENTRIES, mentionsOf, scrub } from './names-in-records.ts';
import { type Asked, allOf, type Baby, EITHER, IN_LIST, knownAs, listed } from './whom-to-forget.ts';

export interface ForgetResult {
  feeds: number;
  handFeeds: number;
  milkEvents: number;
  /** Archived captures on a disk that is not attached now. */
  unreachable: string[];
  /** Number of other records (also feeds without a name) whose text still contains the name. */
  mentions: number;
  /** Number of feeds without a baby; they stay. */
  unnamed: number;
  /** Number of feeds with a name of the baby whose owner is undecided; they stay. */
  unsure: number;
}

interface Place {
  folder: string;
  database: FeedDatabase;
  captures: Captures;
}

/**
 * @throws PlainError forget-nobody when there are no data of such a baby, forget-which when two babies have the name, forget-busy when another program reads the folder
 */
export function forgetBaby(place: Place, who: Asked): ForgetResult {
  return plainly(place.folder, () => {
    const { database } = place;
    const whose = new Whose(database);
    const baby = allOf(whose, knownAs(whose, who));
    // Deleted data are overwritten at once, in case the power fails before the file is rewritten.
    waysOf(database).beforeDeleting(database);
    const feeds = feedsOf(database, baby);
    const result = inTransaction(database, () => {
      listLeaving(database, feeds);
      return deleteAll(database, baby, feeds);
    });
    return { ...result, unreachable: sweepLeaving(place) };
  });
}

/** Completes an interrupted deletion. @returns captures that cannot be reached now */
export const sweepLeaving = (place: Place): string[] =>
  removeLeaving(place.database, place.captures, () =>
    waysOf(place.database).writeAnew(place.database, place.folder),
  );

/** The name inside a baby's record. */
const NAME_OF_BABY = "json_extract(baby_json, '$.name')";

interface FeedToForget {
  no: number;
  id: string;
  capture_file: string;
}

const feedsOf = (database: FeedDatabase, { ids, names }: Baby): FeedToForget[] =>
  database
    .prepare<FeedToForget>(`SELECT no, id, capture_file FROM feed WHERE ${EITHER}`)
    .all(listed(ids), listed(names));

function deleteAll(
  database: FeedDatabase,
  baby: Baby,
  feeds: readonly FeedToForget[],
): Omit<ForgetResult, 'unreachable'> {
  const run = (sql: string, ...values: unknown[]): number => database.prepare(sql).run(...values).changes;
  const lists = [listed(baby.ids), listed(baby.names)] as const;
  const nos = listed(feeds.map(({ no }) => String(no)));
  const ofFeeds = 'feed_no IN (SELECT CAST(value AS INTEGER) FROM json_each(?))';
  for (const table of 'feed_row packed_rows cue told_cue feed_event refined_feed correction'.split(' ')) {
    run(`DELETE FROM ${table} WHERE ${ofFeeds}`, nos);
  }
  run('DELETE FROM feed WHERE no IN (SELECT CAST(value AS INTEGER) FROM json_each(?))', nos);
  run(`DELETE FROM correction WHERE hand_feed_no IN (SELECT no FROM hand_feed WHERE ${EITHER})`, ...lists);
  const handFeeds = run(`DELETE FROM hand_feed WHERE ${EITHER}`, ...lists);
  for (const id of baby.ids) new WardRecords(database).forget(id);
  run(
    `DELETE FROM baby WHERE id COLLATE NOCASE IN ${IN_LIST} OR ${NAME_OF_BABY} COLLATE NOCASE IN ${IN_LIST}`,
    ...lists,
  );
  // Milk without a baby belongs to everybody; with the last baby it is deleted too, and so are the family's entries.
  const whose = new Whose(database);
  const isLast = whose.babies().every(({ id, name }) => id === null && name === null);
  whose.keepApart(whose.apart().filter((id) => !baby.ids.includes(id)));
  const milkEvents = isLast
    ? run('DELETE FROM milk_event')
    : run(`DELETE FROM milk_event WHERE baby_id IN ${IN_LIST}`, lists[0]);
  if (isLast) run('DELETE FROM setting WHERE name IN (SELECT value FROM json_each(?))', listed(OF_FAMILY));
  else for (const [table, column] of ENTRIES) scrub(database, table, column, baby);
  return {
    feeds: feeds.length,
    handFeeds,
    milkEvents,
    mentions: mentionsOf(database, baby),
    unnamed: countIn(database, 'feed WHERE baby_name IS NULL AND baby_id IS NULL'),
    unsure: countIn(
      database,
      `feed WHERE baby_id IS NULL AND baby_name IN ${IN_LIST}`,
      listed(baby.doubtful),
    ),
  };
}

/** Settings with a family's data: the last answers, whom to call. The others concern the sleeve and this machine. */
const OF_FAMILY = ['setup', 'packing', 'zone', 'alone-feeds'];
