/** Which baby feeds belong to: the list of babies from records and feeds, and assigning feeds to a baby afterwards. */

import {
  type BabyRecord,
  type BabyRef,
  babiesFrom,
  certainOwner,
  isOf,
  type KnownBaby,
  type OwnedFeeds,
  sameName,
} from '../../base/babies.ts';
import { PlainError } from '../../base/errors.ts';
import type { FeedDatabase } from './feed-database.ts';
import { replacingSql } from './replacing.ts';

/** Setting: ids of babies without a record that a person has declared to be different from babies of the same name. */
const APART = 'babies-apart';

type Table = 'feed' | 'hand_feed';

interface FeedRecord {
  no: number;
  babyId: string | null;
  babyName: string | null;
  birthDay: string | null;
}

/** Which feeds without a baby's id to process: those with a name, those with these ids, or all. */
export interface Unbound {
  name?: string;
  feedIds?: ReadonlySet<string>;
}

/**
 * Statements about the owners of feeds. A migration calls them too, so they may use only the schema of that version. A feed is never
 * rewritten: its owner is stored as a correction. Errors are SQLite's own; the caller runs the transaction.
 */
export class Whose {
  constructor(private readonly database: FeedDatabase) {}

  /** @param asked  the baby in the answers before the next feed: first in the list, with or without feeds @returns by latest feed */
  babies(asked?: OwnedFeeds): KnownBaby[] {
    const records = this.#all<BabyRecord>(
      `SELECT id, json_extract(baby_json, '$.name') AS name, json_extract(baby_json, '$.birthDate') AS birthDate
       FROM baby ORDER BY created_at_ms, id`,
    );
    const owned = this.owned();
    return babiesFrom(records, asked ? [asked, ...owned] : owned, this.apart());
  }

  /** What feeds say of whose they are, the latest first. */
  owned(): OwnedFeeds[] {
    return this.#all<OwnedFeeds>(
      `SELECT baby_id COLLATE BINARY AS id, baby_name COLLATE BINARY AS name, baby_birth_date AS birthDay,
         max(CASE WHEN state <> 'discarded' THEN at_ms END) AS lastFedAtMs, count(*) AS feeds, 0 AS handFeeds FROM feed
       GROUP BY baby_id COLLATE BINARY, baby_name COLLATE BINARY, baby_birth_date
       UNION ALL SELECT baby_id COLLATE BINARY, baby_name COLLATE BINARY, NULL,
         max(CASE WHEN withdrawn = 0 THEN at_ms END), 0, count(*) FROM hand_feed
       GROUP BY baby_id COLLATE BINARY, baby_name COLLATE BINARY
       ORDER BY 4 DESC NULLS LAST`,
    );
  }

  /** Assigns feeds without a baby's id to the only baby they can belong to. */
  bindCertain(madeAtMs: number, { name, feedIds }: Unbound = {}): void {
    const babies = this.babies();
    for (const table of ['feed', 'hand_feed'] as const) {
      for (const feed of this.#feeds(table, feedIds)) {
        if (feed.babyId || (name !== undefined && !sameName(feed.babyName, name))) continue;
        const owner = certainOwner(babies, { name: feed.babyName, birthDay: feed.birthDay });
        if (owner !== null) this.#bind(table, feed.no, owner, madeAtMs);
      }
    }
  }

  /** Assigns all feeds of one baby, given by name or id, to another one. */
  bindAll(of: BabyRef, to: string, madeAtMs: number): void {
    for (const table of ['feed', 'hand_feed'] as const) {
      for (const feed of this.#feeds(table)) {
        if (isOf(feed, of)) this.#bind(table, feed.no, to, madeAtMs);
      }
    }
  }

  apart(): string[] {
    const [row] = this.#all<{ json: string }>(
      'SELECT setting_json AS json FROM setting WHERE name = ?',
      APART,
    );
    const ids: unknown = row ? JSON.parse(row.json) : [];
    return Array.isArray(ids) ? ids.filter((id) => typeof id === 'string') : [];
  }

  keepApart(ids: readonly string[]): void {
    if (ids.length === this.apart().length) return;
    this.database
      .prepare(replacingSql('setting', ['name'], ['setting_json']))
      .run(APART, JSON.stringify(ids));
  }

  #feeds(table: Table, ids?: ReadonlySet<string>): FeedRecord[] {
    const birthDay = table === 'feed' ? 'baby_birth_date' : 'NULL';
    const feeds = this.#all<FeedRecord & { id: string }>(
      `SELECT no, id, baby_id AS babyId, baby_name AS babyName, ${birthDay} AS birthDay FROM ${table}`,
    );
    return ids ? feeds.filter(({ id }) => ids.has(id)) : feeds;
  }

  /** The corrected values are set field by field, so that an old entry which would be refused today does not stop it. */
  #bind(table: Table, no: number, babyId: string, madeAtMs: number): void {
    const kind = table === 'feed' ? 'setup' : 'entry';
    this.database
      .prepare(
        `INSERT INTO correction (${table}_no, made_at_ms, made_by, kind, correction_json) VALUES (?, ?, NULL, ?, ?)`,
      )
      .run(no, madeAtMs, kind, JSON.stringify({ kind, [kind]: { babyId } }));
    this.#keepBound(table, no, babyId);
  }

  #keepBound(table: Table, no: number, babyId: string): void {
    const [found] = this.#all<ToBind>(`SELECT ${TO_BIND[table]} FROM ${table} WHERE no = ?`, no);
    this.database
      .prepare(`UPDATE ${table} SET corrected_json = ? WHERE no = ?`)
      .run(JSON.stringify(boundTo(table, found!, babyId)), no);
  }

  #all<T>(sql: string, ...values: (string | number)[]): T[] {
    return this.database.prepare<T>(sql).all(...values);
  }
}

/** Data of a feed to be assigned: its corrected values so far, and the original ones. */
const TO_BIND: Record<Table, string> = {
  feed: 'corrected_json AS corrected, setup_json AS said, started_at_ms AS startedAtMs, ended_at_ms AS endedAtMs',
  hand_feed: 'corrected_json AS corrected, entry_json AS said',
};
interface ToBind {
  corrected: string | null;
  said: string;
  startedAtMs?: number;
  endedAtMs?: number | null;
}

/** @returns the corrected values including this correction */
function boundTo(table: Table, { corrected, said, startedAtMs, endedAtMs }: ToBind, babyId: string): object {
  if (table === 'hand_feed') return { ...JSON.parse(corrected ?? said), babyId };
  const before = corrected
    ? JSON.parse(corrected)
    : { startedAtMs, endedAtMs, setup: JSON.parse(said), reading: null, note: null };
  return { ...before, setup: { ...before.setup, babyId } };
}

export const nothingOpen = (who: string): PlainError =>
  new PlainError(
    'whose-nothing',
    `Nobody has to say whose the feeds of ${who} are. Nothing was changed.`,
    'List what is open with: ebbline feeds whose',
  );

export const noneOfThem = (who: string): PlainError =>
  new PlainError(
    'whose-nobody',
    `${who} is none of the babies that these feeds may be of. Nothing was changed.`,
    'List them with: ebbline feeds whose',
  );
