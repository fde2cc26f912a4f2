import type { FeedSummary } from '../../feed/record/feed.ts';
import type { Corrected, Correction, CorrectionContent } from '../../feed/record/written-by-hand.ts';
import { checked, correctionSchema, nullableName } from '../checks.ts';
import { inTransaction } from './database.ts';
import type { FeedDatabase } from './feed-database.ts';

export interface CorrectionRecord {
  made_at_ms: number;
  made_by: string | null;
  correction_json: string;
}

/** A correction as stored, with time and author. */
export function signedBy<C>({ correction_json, made_at_ms, made_by }: CorrectionRecord): C {
  return { ...JSON.parse(correction_json), madeAtMs: made_at_ms, by: made_by };
}

/** @returns the corrected values of `feed` by `corrections`, oldest first; null if there are none */
export function correctedBy(
  feed: Pick<FeedSummary, 'startedAtMs' | 'endedAtMs' | 'setup'>,
  corrections: readonly Correction[],
): Corrected | null {
  if (corrections.length === 0) return null;
  const { startedAtMs, endedAtMs, setup } = feed;
  const result: Corrected = { startedAtMs, endedAtMs, setup: { ...setup }, reading: null, note: null };
  for (const correction of corrections) {
    if (correction.kind === 'setup') Object.assign(result.setup, correction.setup);
    else if (correction.kind === 'note') result.note = correction.text === '' ? null : correction.text;
    else if (correction.kind === 'after') {
      const { [correction.step]: _before, ...others } = result.after ?? {};
      result.after = correction.done ? { ...others, [correction.step]: correction.madeAtMs } : others;
    } else if (correction.kind === 'bottle-reading') {
      result.reading = { offeredMl: correction.offeredMl, leftMl: correction.leftMl };
    } else {
      result.startedAtMs = correction.startedAtMs;
      result.endedAtMs = correction.endedAtMs;
    }
  }
  return result;
}

/** Corrections of feeds: they are only added. Errors of statements are SQLite's own. */
export class Corrections {
  readonly #insert;
  readonly #ofFeed;
  readonly #keepResult;

  constructor(private readonly database: FeedDatabase) {
    this.#insert = database.prepare(
      `INSERT INTO correction (feed_no, made_at_ms, made_by, kind, correction_json)
       SELECT no, ?, ?, ?, ? FROM feed WHERE id = ?`,
    );
    this.#ofFeed = database.prepare<CorrectionRecord>(
      `SELECT made_at_ms, made_by, correction_json FROM correction
       WHERE feed_no = (SELECT no FROM feed WHERE id = ?) ORDER BY no`,
    );
    this.#keepResult = database.prepare('UPDATE feed SET corrected_json = ? WHERE id = ?');
  }

  /**
   * Adds one, and stores the resulting corrected values, by which the feed is found from now on.
   * @throws FieldError when it is impossible; then nothing was changed
   */
  add(feed: FeedSummary, content: CorrectionContent, by: string | null, madeAtMs: number): void {
    const checkedContent = checked(correctionSchema(madeAtMs), content, 'the correction');
    const { kind } = checkedContent;
    const signed = checked(nullableName, by, 'the initials');
    inTransaction(this.database, () => {
      this.#insert.run(madeAtMs, signed, kind, JSON.stringify(checkedContent), feed.id);
      this.keepResult(feed);
    });
  }

  /** Computes `corrected_json` again. */
  keepResult(feed: FeedSummary): void {
    const corrected = correctedBy(feed, this.of(feed.id));
    this.#keepResult.run(corrected && JSON.stringify(corrected), feed.id);
  }

  /** Oldest first. */
  of(feedId: string): Correction[] {
    return this.#ofFeed.all(feedId).map((record) => signedBy<Correction>(record));
  }
}
