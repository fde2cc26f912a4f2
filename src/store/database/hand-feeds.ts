import { ownJson } from '../../base/typed.ts';
import type { HandFeed, HandFeedCorrection, HandFeedEntry } from '../../feed/record/written-by-hand.ts';
import { checked, handFeedCorrectionSchema, handFeedSchema, nullableName } from '../checks.ts';
import { type CorrectionRecord, signedBy } from './corrections.ts';
import { inTransaction } from './database.ts';
import type { FeedDatabase } from './feed-database.ts';

type Unsigned<C> = C extends unknown ? Omit<C, 'madeAtMs' | 'by'> : never;
/** A correction of a hand-written feed, without author and time. */
export type HandFeedCorrectionContent = Unsigned<HandFeedCorrection>;

/** Which hand-written feeds: from `fromMs` up to before `toMs`, optionally those taken back. */
export interface HandFeedChoice {
  fromMs?: number;
  toMs?: number;
  withdrawn?: boolean;
}

interface HandFeedRecord {
  no: number;
  id: string;
  written_at_ms: number;
  entry_json: string;
  corrected_json: string | null;
  withdrawn: number;
}

/** Feeds that no sleeve measured. Corrections are stored beside the first version. Errors of statements are SQLite's own. */
export class HandFeeds {
  readonly #insert;
  readonly #byId;
  readonly #between;
  readonly #insertCorrection;
  readonly #corrections;
  readonly #keepResult;

  constructor(private readonly database: FeedDatabase) {
    const columns = 'no, id, written_at_ms, entry_json, corrected_json, withdrawn';
    this.#insert = database.prepare('INSERT INTO hand_feed (id, written_at_ms, entry_json) VALUES (?, ?, ?)');
    this.#byId = database.prepare<HandFeedRecord>(`SELECT ${columns} FROM hand_feed WHERE id = ?`);
    this.#between = database.prepare<HandFeedRecord>(
      `SELECT ${columns} FROM hand_feed WHERE at_ms >= ? AND at_ms < ? AND (withdrawn = 0 OR ? = 1)
       ORDER BY at_ms, no`,
    );
    this.#insertCorrection = database.prepare(
      'INSERT INTO correction (hand_feed_no, made_at_ms, made_by, kind, correction_json) VALUES (?, ?, ?, ?, ?)',
    );
    this.#corrections = database.prepare<CorrectionRecord>(
      'SELECT made_at_ms, made_by, correction_json FROM correction WHERE hand_feed_no = ? ORDER BY no',
    );
    this.#keepResult = database.prepare(
      'UPDATE hand_feed SET corrected_json = ?, withdrawn = ? WHERE no = ?',
    );
  }

  /** @throws FieldError when it is impossible; then nothing is stored */
  add(id: string, entry: HandFeedEntry, writtenAtMs: number): void {
    const kept = checked(handFeedSchema(writtenAtMs), entry, 'the feed');
    this.#insert.run(id, writtenAtMs, JSON.stringify(kept));
  }

  /** @throws FieldError when the result is impossible; then nothing is changed */
  correct(feed: HandFeed, content: HandFeedCorrectionContent, by: string | null, madeAtMs: number): void {
    const correction = checked(handFeedCorrectionSchema(madeAtMs), content, 'the correction');
    const signed = checked(nullableName, by, 'the initials');
    inTransaction(this.database, () => {
      const { no } = this.#record(feed.id)!;
      this.#insertCorrection.run(no, madeAtMs, signed, correction.kind, JSON.stringify(correction));
      this.keepResult(feed.id, madeAtMs);
    });
  }

  /** Computes the corrected values again. @throws FieldError when they are impossible */
  keepResult(id: string, nowMs: number): void {
    const record = this.#record(id)!;
    const entry = ownJson<HandFeedEntry>(record.entry_json);
    const corrections = this.#correctionsOf(record.no);
    for (const correction of corrections) {
      if (correction.kind === 'entry') Object.assign(entry, correction.entry);
    }
    const result = checked(handFeedSchema(nowMs), entry, 'the feed as corrected');
    const withdrawn = corrections.some(({ kind }) => kind === 'withdrawn');
    this.#keepResult.run(JSON.stringify(result), Number(withdrawn), record.no);
  }

  get(id: string): HandFeed | null {
    const record = this.#record(id);
    return record ? this.#handFeedOf(record) : null;
  }

  /** Oldest first. */
  list(choice: HandFeedChoice = {}): HandFeed[] {
    const records = this.#between.all(
      choice.fromMs ?? Number.MIN_SAFE_INTEGER,
      choice.toMs ?? Number.MAX_SAFE_INTEGER,
      Number(choice.withdrawn ?? false),
    );
    return records.map((record) => this.#handFeedOf(record));
  }

  #record(id: string): HandFeedRecord | undefined {
    return this.#byId.all(id)[0];
  }

  #correctionsOf(no: number): HandFeedCorrection[] {
    return this.#corrections.all(no).map((record) => signedBy<HandFeedCorrection>(record));
  }

  #handFeedOf(record: HandFeedRecord): HandFeed {
    const original = ownJson<HandFeedEntry>(record.entry_json);
    const corrected = record.corrected_json && ownJson<HandFeedEntry>(record.corrected_json);
    return {
      ...(corrected || original),
      id: record.id,
      writtenAtMs: record.written_at_ms,
      withdrawn: record.withdrawn === 1,
      original,
      // Without a result there are no corrections to look up.
      corrections: corrected ? this.#correctionsOf(record.no) : [],
    };
  }
}
