/**
 * Deletes a baby and everything that belongs to it, for good: feeds with rows, cues and captures, feeds written in by hand, corrections, its part
 * of the milk ledger, the last answers. The file is then rewritten, so that nothing is left in free pages or in the log.
 * Earlier exports, backups and files handed on are not changed; traces may also remain on the disk itself below the files.
 */
import { babiesCalled, type KnownBaby, numbered, sameName } from '../../base/babies.ts';
import { PlainError } from '../../base/errors.ts';
import type { Captures } from '../captures/captures.ts';
import { listLeaving, removeLeaving } from '../captures/leaving.ts';
import { inTransaction, waysOf } from '../database/database.ts';
import type { FeedDatabase } from '../database/feed-database.ts';
import { Whose } from '../database/whose.ts';
import { plainly } from '../faults.ts';
import { WardRecords } from '../ward/ward-records.ts';

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

/** Identifies the baby: all data with one of these. */
interface Baby {
  ids: string[];
  names: string[];
  /** Names that may also be another baby's: data with such a name only are not touched. */
  doubtful: string[];
}

/** Id or name as typed; of several the first known one counts, since an inner store may know only the name. */
export type Asked = string | readonly string[];

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

/** The amount of a baby's data, and its identification. */
export interface CountedBaby {
  id: string | null;
  name: string;
  feeds: number;
  handFeeds: number;
}

/** Counts what would be deleted of a baby. @throws PlainError forget-nobody, forget-which */
export function countOf(database: FeedDatabase, who: Asked): CountedBaby {
  const whose = new Whose(database);
  return countedBaby(database, whose, knownAs(whose, who));
}

/** All babies with data, by name, each with the amount that would be deleted. */
export function babiesCounted(database: FeedDatabase): CountedBaby[] {
  const whose = new Whose(database);
  return known(whose)
    .map((baby) => countedBaby(database, whose, baby))
    .sort((one, other) => one.name.localeCompare(other.name));
}

function countedBaby(database: FeedDatabase, whose: Whose, baby: KnownBaby): CountedBaby {
  const { ids, names } = allOf(whose, baby);
  const count = (table: string): number => {
    const [{ n }] = database
      .prepare(`SELECT count(*) AS n FROM ${table} WHERE ${EITHER}`)
      .all(listed(ids), listed(names)) as [{ n: number }];
    return n;
  };
  return { id: baby.id, name: baby.name ?? baby.id!, feeds: count('feed'), handFeeds: count('hand_feed') };
}

/** Babies that can be identified: by an id, or by a unique name. */
const known = (whose: Whose): KnownBaby[] =>
  whose.babies().filter(({ id, name, mayBe }) => id !== null || (name !== null && mayBe.length === 0));

function knownAs(whose: Whose, asked: Asked): KnownBaby {
  const all = known(whose);
  const texts = typeof asked === 'string' ? [asked] : asked;
  const found = texts.map((who) => babiesCalled(all, who)).find(({ length }) => length > 0) ?? [];
  if (found.length === 1) return found[0]!;
  if (found.length === 0)
    throw new PlainError(
      'forget-nobody',
      `Nothing is kept of a baby called ${texts[0]}. Nothing was deleted.`,
      `Kept are feeds of: ${all.map(({ name, id }) => name ?? id).join(', ') || 'no baby with a name'}.`,
    );
  throw new PlainError(
    'forget-which',
    `${found.length} babies are called ${found[0]!.name}. Nothing was deleted.`,
    `Name one by its number: ${found.map(numbered).join('; ')}.`,
  );
}

/** Feeds with only its name belong to it, unless another baby has or had that name, or the birth dates differ. */
function allOf(whose: Whose, baby: KnownBaby): Baby {
  if (baby.id === null) return { ids: [], names: [...baby.names], doubtful: [] };
  const others = whose.babies().filter(({ id }) => id !== null && id !== baby.id);
  const typed = whose.owned().filter(({ id }) => id === null);
  const isDoubtful = (name: string): boolean =>
    others.some(({ names }) => names.some((one) => sameName(one, name))) ||
    typed.some(
      (one) =>
        sameName(one.name, name) &&
        one.birthDay !== null &&
        baby.birthDay !== null &&
        one.birthDay !== baby.birthDay,
    );
  // With the spelling of each feed, since SQLite compares case only for letters without accents.
  const written = [
    ...baby.names,
    ...typed.flatMap(({ name }) =>
      name !== null && baby.names.some((one) => sameName(one, name)) ? [name] : [],
    ),
  ];
  return {
    ids: [baby.id],
    names: written.filter((name) => !isDoubtful(name)),
    doubtful: written.filter(isDoubtful),
  };
}

/** The name inside a baby's record. */
const NAME_OF_BABY = "json_extract(baby_json, '$.name')";

const listed = (values: readonly string[]): string => JSON.stringify(values);
const IN_LIST = '(SELECT value COLLATE NOCASE FROM json_each(?))';
const EITHER = `(baby_id IN ${IN_LIST} OR baby_name IN ${IN_LIST})`;

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
  const [{ unnamed }] = database
    .prepare('SELECT count(*) AS unnamed FROM feed WHERE baby_name IS NULL AND baby_id IS NULL')
    .all() as [{ unnamed: number }];
  const [{ unsure }] = database
    .prepare(`SELECT count(*) AS unsure FROM feed WHERE baby_id IS NULL AND baby_name IN ${IN_LIST}`)
    .all(listed(baby.doubtful)) as [{ unsure: number }];
  return {
    feeds: feeds.length,
    handFeeds,
    milkEvents,
    mentions: mentionsOf(database, baby),
    unnamed,
    unsure,
  };
}

/** Settings with a family's data: the last answers, whom to call. The others concern the sleeve and this machine. */
const OF_FAMILY = ['setup', 'packing', 'zone', 'alone-feeds'];

/** Other records that may name the baby: a feed first stored under the wrong name, its corrections, the last answers. */
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

/** The name as it appears inside stored JSON, without quotes. */
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

/** The same entry with the fields that name the baby set to null. */
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
    for (const name of new Set(names.map(nameInJson))) {
      const [{ n }] = database
        .prepare(
          `SELECT count(*) AS n FROM ${table} WHERE replace(lower(${column}), ?, '') <> lower(${column})`,
        )
        .all(name) as [{ n: number }];
      mentions += n;
    }
  }
  return mentions;
}
