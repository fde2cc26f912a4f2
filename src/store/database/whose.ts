/** Whose feeds are: the list of babies out of records and feeds, and feeds that are given to a baby afterwards. */

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

/** Setting with ids of babies without a record of which somebody has said that they are none of their namesakes. */
const APART = 'babies-apart';

type Table = 'feed' | 'hand_feed';

interface FeedRecord {
  no: number;
  babyId: string | null;
  babyName: string | null;
  birthDay: string | null;
}

/** Which feeds without an id of a baby to look at: of one name, of these ids of feeds, all. */
export interface Unbound {
  name?: string;
  feedIds?: ReadonlySet<string>;
}

/**
 * Statements about whose feeds are. A migration calls them too, so they may read only what stands in the database by then. A feed is never
 * rewritten: whose it is stands beside it as a correction. Errors are SQLite's own; a transaction is the caller's.
 */
export class Whose {
  constructor(private readonly database: FeedDatabase) {}

  /** @param asked  whoever stands in the answers before the next feed: first in the list, feeds or not @returns the latest fed first */
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

  /** Gives feeds that name no baby by its id to the one that they can only belong to. */
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

  /** Gives all feeds of one baby, known by its name or by an id, to another one. */
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

  /** What a correction comes to is set field by field: an old entry that would not be taken today must not stop it. */
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

/** What there is of a feed to be given to a baby: what corrections came to so far, and what they began from. */
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

/** @returns what corrections come to with this one */
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
