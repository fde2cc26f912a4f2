/**
 * A baby and all that belongs to it, deleted for good: feeds with rows, cues and captures, feeds written in by hand, corrections, its part
 * of the milk ledger, the last answers. The file is then written anew, so that nothing is left in free pages or in the log.
 * What was exported, backed up or handed on before is elsewhere and stays there; so may traces on the disk itself below the files.
 */
import * as fs from 'node:fs';
import { basename, dirname, isAbsolute, join } from 'node:path';
import { PlainError } from '../../errors.ts';
import type { CaptureFolder } from '../capture-folder.ts';
import type { FeedDatabase } from '../database.ts';
import { inTransaction } from '../database.ts';
import { plainly } from '../faults.ts';

export interface ForgetResult {
  feeds: number;
  handFeeds: number;
  milkEvents: number;
  /** Captures that were put away on a disk that is not there now. */
  unreachable: string[];
  /** Records of others, feeds without a name among them, in whose words the name still stands. */
  mentions: number;
  /** Feeds that name no baby; they stay. */
  unnamed: number;
}

interface Place {
  folder: string;
  database: FeedDatabase;
  captures: CaptureFolder;
}

/** Who is meant: everything under one of these. */
interface Baby {
  ids: string[];
  names: string[];
}

/**
 * @param who  name or id, large and small letters alike
 * @throws PlainError forget-nobody when nothing is kept of such a baby, forget-which when there are two of the name, forget-busy when another program reads the folder
 */
export function forgetBaby(place: Place, who: string): ForgetResult {
  return plainly(place.folder, () => {
    const { database } = place;
    const baby = babyCalled(database, who);
    // What is deleted is overwritten at once, in case the power fails before the file is written anew.
    database.exec('PRAGMA secure_delete = ON');
    const feeds = feedsOf(database, baby);
    const result = inTransaction(database, () => deleteAll(database, baby, feeds));
    const unreachable = removeCaptures(place, feeds);
    writeAnew(place);
    return { ...result, unreachable };
  });
}

/** What is kept of a baby, before it is deleted. @throws PlainError forget-nobody */
export function countOf(database: FeedDatabase, who: string): { feeds: number; handFeeds: number } {
  const baby = babyCalled(database, who);
  const count = (table: string): number => {
    const [{ n }] = database
      .prepare(`SELECT count(*) AS n FROM ${table} WHERE ${EITHER}`)
      .all(listed(baby.ids), listed(baby.names)) as [{ n: number }];
    return n;
  };
  return { feeds: count('feed'), handFeeds: count('hand_feed') };
}

/** Babies that something is kept of, by name, or by id where there is no name. */
export function babiesKept(database: FeedDatabase): string[] {
  const rows = database
    .prepare(
      `SELECT coalesce(baby_name, baby_id) AS baby FROM feed WHERE baby IS NOT NULL
       UNION SELECT coalesce(baby_name, baby_id) AS baby FROM hand_feed WHERE baby IS NOT NULL
       UNION SELECT ${NAME_OF_BABY} AS baby FROM baby ORDER BY 1`,
    )
    .all() as { baby: string }[];
  return rows.map(({ baby }) => baby);
}

/** The name inside a baby's record. */
const NAME_OF_BABY = "json_extract(baby_json, '$.name')";

/** Each of them with how much names it. */
export function babiesCounted(database: FeedDatabase): { name: string; feeds: number; handFeeds: number }[] {
  const count = (table: string, name: string): number => {
    const [{ n }] = database
      .prepare(`SELECT count(*) AS n FROM ${table} WHERE coalesce(baby_name, baby_id) = ? COLLATE NOCASE`)
      .all(name) as [{ n: number }];
    return n;
  };
  return babiesKept(database).map((name) => ({
    name,
    feeds: count('feed', name),
    handFeeds: count('hand_feed', name),
  }));
}

const listed = (values: readonly string[]): string => JSON.stringify(values);
const IN_LIST = '(SELECT value COLLATE NOCASE FROM json_each(?))';
const EITHER = `(baby_id IN ${IN_LIST} OR baby_name IN ${IN_LIST})`;

/** A name stands for its id and an id for its names, unless two babies share the name. */
function babyCalled(database: FeedDatabase, who: string): Baby {
  const pairs = database
    .prepare(
      `SELECT DISTINCT lower(baby_id) AS id, baby_name AS name FROM
       (SELECT baby_id, baby_name FROM feed UNION SELECT baby_id, baby_name FROM hand_feed
        UNION SELECT id AS baby_id, ${NAME_OF_BABY} AS baby_name FROM baby)`,
    )
    .all() as { id: string | null; name: string | null }[];
  const alike = (one: string | null, other: string | null): boolean =>
    one !== null && one.toLowerCase() === other?.toLowerCase();
  const idsNamed = (name: string | null) => [
    ...new Set(pairs.filter((pair) => alike(pair.name, name) && pair.id !== null).map(({ id }) => id!)),
  ];
  const byId = pairs.filter(({ id }) => alike(id, who));
  const byName = pairs.filter(({ name }) => alike(name, who));
  if (byId.length + byName.length === 0) {
    throw new PlainError(
      'forget-nobody',
      `Nothing is kept of a baby called ${who}. Nothing was deleted.`,
      `Kept are feeds of: ${babiesKept(database).join(', ') || 'no baby with a name'}.`,
    );
  }
  /** A name that another baby has too says nothing. */
  const ownNames = (of: typeof pairs): string[] =>
    of.flatMap(({ name }) => (name !== null && idsNamed(name).length === 1 ? [name] : []));
  if (byId.length > 0) return { ids: [who], names: ownNames(byId) };
  const ids = idsNamed(who);
  if (ids.length > 1) {
    throw new PlainError(
      'forget-which',
      `${ids.length} babies are called ${who}. Nothing was deleted.`,
      `Name one by its number: ${ids.join(', ')}.`,
    );
  }
  const names = [who, ...ownNames(pairs.filter(({ id }) => id !== null && id === ids[0]))];
  return { ids, names: [...new Set(names.map((name) => name.toLowerCase()))] };
}

interface FeedToForget {
  no: number;
  id: string;
  capture_file: string;
}

const feedsOf = (database: FeedDatabase, { ids, names }: Baby): FeedToForget[] =>
  database
    .prepare(`SELECT no, id, capture_file FROM feed WHERE ${EITHER}`)
    .all(listed(ids), listed(names)) as FeedToForget[];

function deleteAll(
  database: FeedDatabase,
  baby: Baby,
  feeds: readonly FeedToForget[],
): Omit<ForgetResult, 'unreachable'> {
  const run = (sql: string, ...values: unknown[]): number =>
    database.prepare(sql).run(...(values as [])).changes;
  const lists = [listed(baby.ids), listed(baby.names)] as const;
  const nos = listed(feeds.map(({ no }) => String(no)));
  const ofFeeds = 'feed_no IN (SELECT CAST(value AS INTEGER) FROM json_each(?))';
  for (const table of ['feed_row', 'packed_rows', 'cue', 'feed_event', 'refined_feed', 'correction']) {
    run(`DELETE FROM ${table} WHERE ${ofFeeds}`, nos);
  }
  run('DELETE FROM feed WHERE no IN (SELECT CAST(value AS INTEGER) FROM json_each(?))', nos);
  run(`DELETE FROM correction WHERE hand_feed_no IN (SELECT no FROM hand_feed WHERE ${EITHER})`, ...lists);
  const handFeeds = run(`DELETE FROM hand_feed WHERE ${EITHER}`, ...lists);
  run(`DELETE FROM baby WHERE id IN ${IN_LIST} OR ${NAME_OF_BABY} COLLATE NOCASE IN ${IN_LIST}`, ...lists);
  // Milk that names no baby is everybody's; of the last baby it goes too, and so does what the family entered.
  const isLast = babiesKept(database).length === 0;
  const milkEvents = isLast
    ? run('DELETE FROM milk_event')
    : run(`DELETE FROM milk_event WHERE baby_id IN ${IN_LIST}`, lists[0]);
  if (isLast) run('DELETE FROM setting WHERE name IN (SELECT value FROM json_each(?))', listed(OF_FAMILY));
  else for (const [table, column] of ENTRIES) scrub(database, table, column, baby);
  const [{ unnamed }] = database
    .prepare('SELECT count(*) AS unnamed FROM feed WHERE baby_name IS NULL AND baby_id IS NULL')
    .all() as [{ unnamed: number }];
  return { feeds: feeds.length, handFeeds, milkEvents, mentions: mentionsOf(database, baby), unnamed };
}

/** Settings in which a family speaks: the last answers, whom to call. The others are about the sleeve and this machine. */
const OF_FAMILY = ['setup', 'packing'];

/** Where others' records may name the baby: a feed first kept under the wrong name, its corrections, the last answers. */
const ENTRIES = [
  ['feed', 'setup_json'],
  ['feed', 'corrected_json'],
  ['hand_feed', 'entry_json'],
  ['hand_feed', 'corrected_json'],
  ['correction', 'correction_json'],
  ['milk_event', 'entry_json'],
  ['setting', 'setting_json'],
  ['baby', 'baby_json'],
] as const;

const keyOf = (table: string): string => ({ setting: 'name', baby: 'id' })[table] ?? 'no';

/** JSON as it lies in the database: the name between its quotes, or inside a text. */
const nameInJson = (name: string): string => JSON.stringify(name).slice(1, -1).toLowerCase();

function scrub(database: FeedDatabase, table: string, column: string, baby: Baby): void {
  const key = keyOf(table);
  const update = database.prepare(`UPDATE ${table} SET ${column} = ? WHERE ${key} = ?`);
  const rows = database
    .prepare(`SELECT ${key} AS key, ${column} AS json FROM ${table} WHERE ${column} IS NOT NULL`)
    .all() as { key: string | number; json: string }[];
  const known = [...baby.names, ...baby.ids].map(nameInJson);
  for (const { key: row, json } of rows) {
    if (!known.some((name) => json.toLowerCase().includes(name))) continue;
    const without = JSON.stringify(withoutBaby(JSON.parse(json), baby));
    if (without !== json) update.run(without, row);
  }
}

/** The same, but wherever the baby is named by its fields they say nobody. */
function withoutBaby(entry: unknown, baby: Baby): unknown {
  if (Array.isArray(entry)) return entry.map((one) => withoutBaby(one, baby));
  if (entry === null || typeof entry !== 'object') return entry;
  const isOneOf = (list: readonly string[], value: unknown): boolean =>
    typeof value === 'string' && list.some((one) => one.toLowerCase() === value.toLowerCase());
  const { babyName, babyId } = entry as { babyName?: unknown; babyId?: unknown };
  const isNamed = isOneOf(baby.names, babyName) || isOneOf(baby.ids, babyId);
  return Object.fromEntries(
    Object.entries(entry).map(([field, value]) => [
      field,
      isNamed && ['babyName', 'babyId', 'babyBirthDate'].includes(field) ? null : withoutBaby(value, baby),
    ]),
  );
}

function mentionsOf(database: FeedDatabase, { names }: Baby): number {
  let mentions = 0;
  for (const [table, column] of ENTRIES) {
    for (const name of names) {
      const [{ n }] = database
        .prepare(`SELECT count(*) AS n FROM ${table} WHERE instr(lower(${column}), ?) > 0`)
        .all(nameInJson(name)) as [{ n: number }];
      mentions += n;
    }
  }
  return mentions;
}

/** @returns captures elsewhere that could not be reached */
function removeCaptures({ captures }: Place, feeds: readonly FeedToForget[]): string[] {
  const unreachable: string[] = [];
  for (const { id, capture_file } of feeds) {
    captures.removeAll(id);
    if (!isAbsolute(capture_file)) continue;
    if (fs.existsSync(capture_file)) {
      fs.rmSync(capture_file);
      fs.rmSync(join(dirname(capture_file), `${basename(capture_file).replace(/\.cap.*$/, '')}.json`), {
        force: true,
      });
    } else unreachable.push(capture_file);
  }
  return unreachable;
}

/** Without free pages, and with nothing left in the log. */
function writeAnew({ folder, database }: Place): void {
  database.exec('VACUUM');
  const [{ busy }] = database.prepare('PRAGMA wal_checkpoint(TRUNCATE)').all() as [{ busy: number }];
  if (busy === 0) return;
  throw new PlainError(
    'forget-busy',
    `The baby is deleted, but another program reads ${folder}, so that traces may be left in the log beside the database.`,
    'Close the other one and list the feeds once: ebbline feeds.',
  );
}
