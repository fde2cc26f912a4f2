/** Where records of others name a baby that is deleted: struck out where a field says it, counted where words do. */
import { countIn } from '../database/database.ts';
import type { FeedDatabase } from '../database/feed-database.ts';
import type { Baby } from './whom-to-forget.ts';

/** Other records that may name the baby: a feed first stored under the wrong name, its corrections, the last answers. */
export const ENTRIES = [
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

export function scrub(database: FeedDatabase, table: string, column: string, baby: Baby): void {
  const key = keyOf(table);
  const update = database.prepare(`UPDATE ${table} SET ${column} = ? WHERE ${key} = ?`);
  const filled = `SELECT ${key} AS key, ${column} AS json FROM ${table} WHERE ${column} IS NOT NULL`;
  const rows = database.prepare<{ key: string | number; json: string }>(filled).all();
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
  const babyName = 'babyName' in entry ? entry.babyName : null;
  const babyId = 'babyId' in entry ? entry.babyId : null;
  const isNamed = isOneOf(baby.names, babyName) || isOneOf(baby.ids, babyId);
  return Object.fromEntries(
    Object.entries(entry).map(([field, value]) => [
      field,
      isNamed && ['babyName', 'babyId', 'babyBirthDate'].includes(field) ? null : withoutBaby(value, baby),
    ]),
  );
}

/** @returns in how many records of others the name still stands */
export const mentionsOf = (database: FeedDatabase, { names }: Baby): number =>
  ENTRIES.flatMap(([table, column]) =>
    [...new Set(names.map(nameInJson))].map((name) =>
      countIn(database, `${table} WHERE replace(lower(${column}), ?, '') <> lower(${column})`, name),
    ),
  ).reduce((sum, count) => sum + count, 0);
