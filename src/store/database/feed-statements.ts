/** Every statement about feeds. Errors are SQLite's own. */
import type { ToldCue } from '../../feed/record/feed.ts';
import type { CueLine } from './cue-line.ts';
import type { FeedDatabase } from './feed-database.ts';
import type { FeedRecord, RowRecord, SummaryRecord } from './feed-record.ts';
import { replacingSql } from './replacing.ts';

/** Columns of a list; without the calibration, which is long. */
export const SUMMARY_COLUMNS = `id, state, end_reason, simulated, started_at_ms, sample_zero_at_ms, ended_at_ms, sleeve_id,
  setup_json, capture_file, intake_ml, spilt_ml, added_ml, duration_sec`;

/** Key of a line within a feed. */
const IN_FEED = ['feed_no', 'seq'];

export function feedStatements(database: FeedDatabase) {
  const prepare = <Row>(sql: string) => database.prepare<Row>(sql);
  // A commit that reports an error may have succeeded nevertheless, so writing the same again must not be a conflict.
  const replacing = (table: string, key: readonly string[], others: readonly string[]) =>
    prepare(replacingSql(table, key, others));
  return {
    insertFeed: prepare<{
      no: number;
    }>(`INSERT INTO feed (id, state, end_reason, simulated, started_at_ms, sample_zero_at_ms, ended_at_ms,
      sleeve_id, setup_json, calibration_json, software_version, capture_file, intake_ml, spilt_ml, added_ml, duration_sec,
      ran_json) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?) RETURNING no`),
    insertRow: replacing('feed_row', IN_FEED, [
      ...['at_sec', 'milk_ml', 'flow_ml_per_min', 'intake_ml', 'teat_in_mouth', 'tilt_deg'],
    ]),
    insertCue: replacing('cue', IN_FEED, ['at_sec', 'kind', 'because']),
    insertTold: replacing('told_cue', IN_FEED, ['since_sec', 'at_sec', 'shown', 'output']),
    tellKept: prepare('UPDATE feed SET is_told_kept = 1 WHERE no = ? AND is_told_kept = 0'),
    insertEvent: replacing('feed_event', IN_FEED, ['at_sec', 'kind', 'event_json']),
    anyOf: prepare(`SELECT 1 FROM feed_row WHERE feed_no = ? UNION ALL SELECT 1 FROM cue WHERE feed_no = ?
      UNION ALL SELECT 1 FROM told_cue WHERE feed_no = ? UNION ALL SELECT 1 FROM feed_event WHERE feed_no = ? LIMIT 1`),
    updateTotals: prepare(
      'UPDATE feed SET intake_ml = ?, spilt_ml = ?, added_ml = ?, duration_sec = ? WHERE no = ?',
    ),
    // A feed marked "not a feed" stays so when it is ended later.
    endFeed: prepare(`UPDATE feed SET state = CASE state WHEN 'open' THEN 'ended' ELSE state END,
      end_reason = ?, ended_at_ms = CASE WHEN started_at_ms > ? THEN started_at_ms ELSE ? END WHERE id = ?`),
    refineTotals: prepare('UPDATE feed SET intake_ml = ?, spilt_ml = ?, added_ml = ? WHERE id = ?'),
    insertRefined:
      prepare(`INSERT INTO refined_feed (feed_no, json_deflated) SELECT no, ? FROM feed WHERE id = ?
      ON CONFLICT (feed_no) DO UPDATE SET json_deflated = excluded.json_deflated`),
    discardFeed: prepare("UPDATE feed SET state = 'discarded' WHERE id = ?"),
    setCaptureFile: prepare('UPDATE feed SET capture_file = ? WHERE id = ?'),
    openFeeds: prepare<SummaryRecord>(
      `SELECT ${SUMMARY_COLUMNS} FROM feed WHERE state = 'open' ORDER BY started_at_ms, no`,
    ),
    feedById: prepare<FeedRecord>('SELECT * FROM feed WHERE id = ?'),
    anyFeed: prepare<{ simulated: number }>('SELECT simulated FROM feed LIMIT 1'),
    lastRowAt: prepare<{ at_sec: number | null }>(
      'SELECT max(at_sec) AS at_sec FROM feed_row WHERE feed_no = (SELECT no FROM feed WHERE id = ?)',
    ),
    rowsOf:
      prepare<RowRecord>(`SELECT at_sec AS atSec, milk_ml AS milkMl, flow_ml_per_min AS flowMlPerMin, intake_ml AS intakeMl,
      teat_in_mouth AS teatInMouth, tilt_deg AS tiltDeg FROM feed_row WHERE feed_no = ? ORDER BY seq`),
    packedOf: prepare<{ columns: ArrayBuffer }>('SELECT columns FROM packed_rows WHERE feed_no = ?'),
    insertPacked: prepare('INSERT INTO packed_rows (feed_no, columns) VALUES (?, ?)'),
    deleteRows: prepare('DELETE FROM feed_row WHERE feed_no = ?'),
    cutRows: prepare('DELETE FROM feed_row WHERE feed_no = ? AND seq >= ?'),
    cutCues: prepare('DELETE FROM cue WHERE feed_no = ? AND seq >= ?'),
    cutTold: prepare('DELETE FROM told_cue WHERE feed_no = ? AND seq >= ?'),
    cutEvents: prepare('DELETE FROM feed_event WHERE feed_no = ? AND seq >= ?'),
    cuesOf: prepare<CueLine>('SELECT at_sec AS atSec, kind, because FROM cue WHERE feed_no = ? ORDER BY seq'),
    toldOf: prepare<ToldCue>(
      'SELECT since_sec AS sinceSec, at_sec AS atSec, shown, output FROM told_cue WHERE feed_no = ? ORDER BY seq',
    ),
    eventsOf: prepare<{ event_json: string }>(
      'SELECT event_json FROM feed_event WHERE feed_no = ? ORDER BY seq',
    ),
    refinedOf: prepare<{ json_deflated: ArrayBuffer }>(
      'SELECT json_deflated FROM refined_feed WHERE feed_no = ?',
    ),
  };
}
