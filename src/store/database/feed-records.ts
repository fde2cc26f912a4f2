import { ownJson } from '../../base/typed.ts';
import type { RanWith } from '../../feed/record/baby.ts';
import type { FeedEndReason, FeedEvent, FeedSummary, KeptFeed } from '../../feed/record/feed.ts';
import type { FeedPart } from '../../feed/record/feed-storage.ts';
import type { RefinedFeed } from '../../sensing/moment.ts';
import { cueFromLine, reasonToText } from './cue-line.ts';
import { asOfNow, inFeed, inTransaction } from './database.ts';
import type { FeedDatabase, Statement } from './feed-database.ts';
import { type FeedRecord, rowsFrom, summaryOf } from './feed-record.ts';
import { feedStatements } from './feed-statements.ts';
import { packRefined, unpackRefined } from './refined-codec.ts';
import { packRows, unpackRows } from './row-codec.ts';

/** Position for the next row, cue and event of a feed. */
export interface FeedCursor {
  feedNo: number;
  rows: number;
  cues: number;
  told: number;
  events: number;
}

/** How a feed ends. */
export interface FeedEnd {
  endReason: FeedEndReason;
  endedAtMs: number;
  refined: RefinedFeed | null;
}

/** The feeds in the database: every statement about them, and nothing else. Errors are SQLite's own. */
export class FeedRecords {
  readonly #statements;

  constructor(private readonly database: FeedDatabase) {
    this.#statements = feedStatements(database);
  }

  /** @returns the cursor for `append` */
  insert(feed: FeedSummary, calibration: unknown, softwareVersion: string, captureFile: string): FeedCursor {
    const [inserted] = this.#statements.insertFeed.all(
      feed.id,
      feed.state,
      feed.endReason,
      Number(feed.simulated),
      feed.startedAtMs,
      feed.sampleZeroAtMs,
      feed.endedAtMs,
      feed.sleeveId,
      JSON.stringify(feed.setup),
      JSON.stringify(calibration ?? null),
      softwareVersion,
      captureFile,
      feed.intakeMl,
      feed.spiltMl,
      feed.addedMl,
      feed.durationSec,
      feed.ran ? JSON.stringify(feed.ran) : null,
    );
    return { feedNo: inserted!.no, rows: 0, cues: 0, told: 0, events: 0 };
  }

  /** @returns the cursor of `feed` if an earlier try has begun it and it is empty; `other` if another feed has its id */
  begunBefore(feed: FeedSummary): FeedCursor | 'other' | null {
    const record = this.#record(feed.id);
    if (!record) return null;
    const isSame =
      record.state === 'open' &&
      record.started_at_ms === feed.startedAtMs &&
      record.sleeve_id === feed.sleeveId &&
      this.#statements.anyOf.all(...Array(4).fill(record.no)).length === 0;
    return isSame ? { feedNo: record.no, rows: 0, cues: 0, told: 0, events: 0 } : 'other';
  }

  /** @returns the cursor at the beginning of an open feed, whatever it contains; null if there is none */
  cursorOf(feed: FeedSummary): FeedCursor | null {
    const record = this.#record(feed.id);
    const isSame =
      record?.state === 'open' &&
      record.started_at_ms === feed.startedAtMs &&
      record.sleeve_id === feed.sleeveId;
    return isSame ? { feedNo: record.no, rows: 0, cues: 0, told: 0, events: 0 } : null;
  }

  /** Removes everything behind the cursor. */
  cutAt({ feedNo, rows, cues, told, events }: FeedCursor): void {
    const { cutRows, cutCues, cutTold, cutEvents } = this.#statements;
    cutRows.run(feedNo, rows);
    cutCues.run(feedNo, cues);
    cutTold.run(feedNo, told);
    cutEvents.run(feedNo, events);
  }

  /** One transaction; the cursor moves only on success. Writing again at the same place replaces what is there. */
  append(cursor: FeedCursor, part: FeedPart): void {
    const { insertRow, insertCue, insertTold, insertEvent, updateTotals, tellKept } = this.#statements;
    const { feedNo } = cursor;
    inFeed(this.database, () => {
      part.rows.forEach((row, i) => {
        const { atSec, milkMl, flowMlPerMin, intakeMl, teatInMouth, tiltDeg } = row;
        put(
          insertRow,
          feedNo,
          cursor.rows + i,
          atSec,
          milkMl,
          flowMlPerMin,
          intakeMl,
          Number(teatInMouth),
          tiltDeg,
        );
      });
      part.cues.forEach((cue, i) => {
        put(insertCue, feedNo, cursor.cues + i, cue.atSec, cue.kind, reasonToText(cue.because));
      });
      part.told?.forEach(({ sinceSec, atSec, shown, output }, i) => {
        put(insertTold, feedNo, cursor.told + i, sinceSec, atSec, shown, output);
      });
      if (part.told) put(tellKept, feedNo);
      part.events.forEach((event, i) => {
        put(insertEvent, feedNo, cursor.events + i, event.atSec, event.kind, JSON.stringify(event));
      });
      put(updateTotals, part.intakeMl, part.spiltMl, part.addedMl, part.durationSec, feedNo);
    });
    cursor.rows += part.rows.length;
    cursor.cues += part.cues.length;
    cursor.told += part.told?.length ?? 0;
    cursor.events += part.events.length;
  }

  /** Ends a feed in one transaction; the refined totals, if any, replace the live ones. */
  end(id: string, end: FeedEnd): void {
    inTransaction(this.database, () => {
      this.#statements.endFeed.run(end.endReason, end.endedAtMs, end.endedAtMs, id);
      if (end.refined) this.refine(id, end.refined);
    });
  }

  /** Stores the refined pass of a feed that has ended, and its totals. */
  refine(id: string, refined: RefinedFeed): void {
    const { intakeMl, spiltMl, addedMl } = refined.totals;
    inTransaction(this.database, () => {
      this.#statements.refineTotals.run(intakeMl, spiltMl, addedMl, id);
      this.keepRefined(id, refined);
    });
  }

  keepRefined(id: string, refined: RefinedFeed): void {
    this.#statements.insertRefined.run(packRefined(refined), id);
  }

  /** Packs the rows of a feed that has ended; packed rows stay packed. */
  packRows(id: string): void {
    const { feedById, rowsOf, insertPacked, deleteRows } = this.#statements;
    inTransaction(this.database, () => {
      const [feed] = feedById.all(id);
      const rows = feed ? rowsFrom(rowsOf.all(feed.no)) : [];
      if (!feed || rows.length === 0) return;
      insertPacked.run(feed.no, packRows(rows));
      deleteRows.run(feed.no);
    });
  }

  discard(id: string): void {
    this.#statements.discardFeed.run(id);
  }

  setCaptureFile(id: string, captureFile: string): void {
    this.#statements.setCaptureFile.run(captureFile, id);
  }

  /** Feeds that are not ended, oldest first. */
  open(): FeedSummary[] {
    return this.#statements.openFeeds.all().map(summaryOf);
  }

  summary(id: string): FeedSummary | null {
    const record = this.#record(id);
    return record ? summaryOf(record) : null;
  }

  /** The data for the sidecar file of a capture. */
  provenance(id: string): { feed: FeedSummary; calibration: unknown; softwareVersion: string } | null {
    const record = this.#record(id);
    if (!record) return null;
    const calibration: unknown = JSON.parse(record.calibration_json);
    return { feed: summaryOf(record), calibration, softwareVersion: record.software_version };
  }

  /** The whole feed as a consistent snapshot, even while another process adds to it. */
  get(id: string): KeptFeed | null {
    return asOfNow(this.database, () => {
      const record = this.#record(id);
      return record ? this.#keptFeedOf(record) : null;
    });
  }

  /** Time of the last row, seconds since sample zero; null before the first. */
  lastRowAtSec(id: string): number | null {
    const [row] = this.#statements.lastRowAt.all(id);
    return row?.at_sec ?? null;
  }

  /** Whether the stored feeds are simulated; null if there are none. */
  holdsSimulated(): boolean | null {
    const [row] = this.#statements.anyFeed.all();
    return row ? row.simulated === 1 : null;
  }

  #record(id: string): FeedRecord | undefined {
    return this.#statements.feedById.all(id)[0];
  }

  #keptFeedOf(record: FeedRecord): KeptFeed {
    const { rowsOf, packedOf, cuesOf, toldOf, eventsOf, refinedOf } = this.#statements;
    const packed = packedOf.all(record.no)[0];
    const refined = refinedOf.all(record.no)[0];
    return {
      ...summaryOf(record),
      calibration: JSON.parse(record.calibration_json),
      softwareVersion: record.software_version,
      ...(record.ran_json && { ran: ownJson<RanWith>(record.ran_json) }),
      rows: packed ? unpackRows(new Uint8Array(packed.columns)) : rowsFrom(rowsOf.all(record.no)),
      cues: cuesOf.all(record.no).map(cueFromLine),
      ...(record.is_told_kept && { told: toldOf.all(record.no) }),
      events: eventsOf.all(record.no).map(({ event_json }) => ownJson<FeedEvent>(event_json)),
      refined: refined ? unpackRefined(new Uint8Array(refined.json_deflated)) : null,
    };
  }
}

const put = (statement: Statement, ...values: unknown[]): void => {
  if (statement.later) statement.later(...values);
  else statement.run(...values);
};
