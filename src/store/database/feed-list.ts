import type { BabyRef } from '../../base/babies.ts';
import { keysOf, ownJson } from '../../base/typed.ts';
import type { Corrected, ListedFeed } from '../../feed/record/written-by-hand.ts';
import type { FeedDatabase, Statement } from './feed-database.ts';
import { type SummaryRecord, summaryOf } from './feed-record.ts';
import { SUMMARY_COLUMNS } from './feed-statements.ts';

/**
 * Which feeds to list. A page at a time: `limit` of them, with `beforeMs` the `atMs` of the last one of the page before.
 * `fromMs` is included, `toMs` is not. Names are the corrected ones; upper and lower case are equal.
 */
export interface ListChoice {
  /** Include those marked "not a feed". */
  discarded?: boolean;
  limit?: number;
  beforeMs?: number;
  fromMs?: number;
  toMs?: number;
  babyId?: string;
  /** Only feeds without a baby's id, with one of these names as written. */
  onlyNames?: readonly string[];
  bottleName?: string;
  teatName?: string;
  sleeveId?: string;
  simulated?: boolean;
}

/** The part of a choice that selects one baby. */
export const feedsOf = ({ id, names }: BabyRef & { names: readonly string[] }): ListChoice =>
  id === null ? { onlyNames: names } : { babyId: id };

/** Each part of a choice as SQL; a part that is not chosen is left out of the statement, so that an index can be used. */
const CLAUSES: Record<Exclude<keyof ListChoice, 'limit' | 'discarded'>, string> = {
  babyId: 'baby_id = ?',
  onlyNames: 'baby_id IS NULL AND baby_name IN (SELECT value FROM json_each(?))',
  bottleName: 'bottle_name = ?',
  teatName: 'teat_name = ?',
  sleeveId: 'sleeve_id = ?',
  simulated: 'simulated = ?',
  fromMs: 'at_ms >= ?',
  toMs: 'at_ms < ?',
  beforeMs: 'at_ms < ?',
};

type ListedRecord = SummaryRecord & {
  at_ms: number;
  corrected_json: string | null;
  cues_json: string;
  told_count: number | null;
};

/** Finds feeds. Errors are SQLite's own. */
export class FeedList {
  readonly #statements = new Map<string, Statement<ListedRecord>>();

  constructor(private readonly database: FeedDatabase) {}

  /** Newest first. */
  list(choice: ListChoice): ListedFeed[] {
    const parts = keysOf(CLAUSES).filter((part) => choice[part] !== undefined);
    const clauses = parts.map((part) => CLAUSES[part]);
    if (!choice.discarded) clauses.push("state <> 'discarded'");
    const sql = `SELECT ${SUMMARY_COLUMNS}, at_ms, corrected_json,
      (SELECT json_group_object(kind, n) FROM (SELECT kind, count(*) AS n FROM cue WHERE feed_no = feed.no GROUP BY kind ORDER BY kind) AS counted)
      AS cues_json, CASE is_told_kept WHEN 1 THEN (SELECT count(DISTINCT since_sec) FROM told_cue WHERE feed_no = feed.no) END
      AS told_count FROM feed ${clauses.length > 0 ? `WHERE ${clauses.join(' AND ')}` : ''}
      ORDER BY at_ms DESC, no DESC LIMIT ?`;
    const values = parts.map((part) => {
      const value = choice[part]!;
      if (typeof value === 'object') return JSON.stringify(value);
      return typeof value === 'boolean' ? Number(value) : value;
    });
    const records = this.#prepared(sql).all(...values, choice.limit ?? Number.MAX_SAFE_INTEGER);
    return records.map(listedOf);
  }

  #prepared(sql: string): Statement<ListedRecord> {
    let statement = this.#statements.get(sql);
    if (!statement) {
      statement = this.database.prepare<ListedRecord>(sql);
      this.#statements.set(sql, statement);
    }
    return statement;
  }
}

function listedOf(record: ListedRecord): ListedFeed {
  const cueCounts = ownJson<Record<string, number>>(record.cues_json);
  return {
    ...summaryOf(record),
    atMs: record.at_ms,
    cueCount: Object.values(cueCounts).reduce((sum, count) => sum + count, 0),
    cueCounts,
    toldCount: record.told_count,
    corrected: record.corrected_json === null ? null : ownJson<Corrected>(record.corrected_json),
  };
}
