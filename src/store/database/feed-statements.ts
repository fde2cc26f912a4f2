/** Every statement about feeds. Errors are SQLite's own. */
import type { FeedDatabase } from './database.ts';

/** What a list shows; a calibration is long and stays where it is. */
export const SUMMARY_COLUMNS = `id, state, end_reason, simulated, started_at_ms, sample_zero_at_ms, ended_at_ms, sleeve_id,
  setup_json, capture_file, intake_ml, spilt_ml, added_ml, duration_sec`;

export function feedStatements(database: FeedDatabase) {
  const prepare = (sql: string) => database.prepare(sql);
  return {
    insertFeed:
      prepare(`INSERT INTO feed (id, state, end_reason, simulated, started_at_ms, sample_zero_at_ms, ended_at_ms,
      sleeve_id, setup_json, calibration_json, software_version, capture_file, intake_ml, spilt_ml, added_ml, duration_sec,
      ran_json) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`),
    // A commit that reports an error may have been kept nevertheless: the same again is no conflict.
    insertRow: prepare('INSERT OR REPLACE INTO feed_row VALUES (?, ?, ?, ?, ?, ?, ?, ?)'),
    insertCue: prepare('INSERT OR REPLACE INTO cue VALUES (?, ?, ?, ?, ?)'),
    insertTold: prepare('INSERT OR REPLACE INTO told_cue VALUES (?, ?, ?, ?, ?, ?)'),
    tellKept: prepare('UPDATE feed SET is_told_kept = 1 WHERE no = ? AND is_told_kept = 0'),
    insertEvent: prepare('INSERT OR REPLACE INTO feed_event VALUES (?, ?, ?, ?, ?)'),
    anyOf: prepare(`SELECT 1 FROM feed_row WHERE feed_no = ? UNION ALL SELECT 1 FROM cue WHERE feed_no = ?
      UNION ALL SELECT 1 FROM told_cue WHERE feed_no = ? UNION ALL SELECT 1 FROM feed_event WHERE feed_no = ? LIMIT 1`),
    updateTotals: prepare(
      'UPDATE feed SET intake_ml = ?, spilt_ml = ?, added_ml = ?, duration_sec = ? WHERE no = ?',
    ),
    // "Not a feed" stays said, whoever ends it later.
    endFeed: prepare(`UPDATE feed SET state = CASE state WHEN 'open' THEN 'ended' ELSE state END,
      end_reason = ?, ended_at_ms = max(started_at_ms, ?) WHERE id = ?`),
    refineTotals: prepare('UPDATE feed SET intake_ml = ?, spilt_ml = ?, added_ml = ? WHERE id = ?'),
    insertRefined: prepare('INSERT OR REPLACE INTO refined_feed SELECT no, ? FROM feed WHERE id = ?'),
    discardFeed: prepare("UPDATE feed SET state = 'discarded' WHERE id = ?"),
    setCaptureFile: prepare('UPDATE feed SET capture_file = ? WHERE id = ?'),
    openFeeds: prepare(`SELECT ${SUMMARY_COLUMNS} FROM feed WHERE state = 'open' ORDER BY started_at_ms, no`),
    feedById: prepare('SELECT * FROM feed WHERE id = ?'),
    anyFeed: prepare('SELECT simulated FROM feed LIMIT 1'),
    lastRowAt: prepare(
      'SELECT max(at_sec) AS at_sec FROM feed_row WHERE feed_no = (SELECT no FROM feed WHERE id = ?)',
    ),
    rowsOf:
      prepare(`SELECT at_sec AS atSec, milk_ml AS milkMl, flow_ml_per_min AS flowMlPerMin, intake_ml AS intakeMl,
      teat_in_mouth AS teatInMouth, tilt_deg AS tiltDeg FROM feed_row WHERE feed_no = ? ORDER BY seq`),
    packedOf: prepare('SELECT columns FROM packed_rows WHERE feed_no = ?'),
    insertPacked: prepare('INSERT INTO packed_rows VALUES (?, ?)'),
    deleteRows: prepare('DELETE FROM feed_row WHERE feed_no = ?'),
    cuesOf: prepare('SELECT at_sec AS atSec, kind, because FROM cue WHERE feed_no = ? ORDER BY seq'),
    toldOf: prepare(
      'SELECT since_sec AS sinceSec, at_sec AS atSec, shown, output FROM told_cue WHERE feed_no = ? ORDER BY seq',
    ),
    eventsOf: prepare('SELECT event_json FROM feed_event WHERE feed_no = ? ORDER BY seq'),
    refinedOf: prepare('SELECT json_deflated FROM refined_feed WHERE feed_no = ?'),
  };
}
