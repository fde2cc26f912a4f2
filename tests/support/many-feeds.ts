/** A store of many feeds made from few: copies with other times, ids and numbers, made within the database. */
import Libsql from 'libsql';

const FEED_COLUMNS = `state, end_reason, simulated, sleeve_id, calibration_json, software_version, capture_file,
  spilt_ml, added_ml, duration_sec`;

export interface ManyFeeds {
  /** The store's database, not open elsewhere. */
  file: string;
  /** Number of feeds in the end, including the present ones. */
  count: number;
  /** Time between feeds; the newest keeps its time. */
  everyMs: number;
  babyNames: readonly string[];
  bottleNames: readonly string[];
}

/** Copies the present feeds, in turn, into the past, with rows, cues, events and refined passes. */
export function multiplyFeeds({ file, count, everyMs, babyNames, bottleNames }: ManyFeeds): void {
  const database = new Libsql(file);
  database.exec('PRAGMA synchronous = OFF; PRAGMA cache_size = -64000; BEGIN');
  const [{ originals, last }] = database
    .prepare('SELECT count(*) AS originals, max(no) AS last FROM feed')
    .all() as [{ originals: number; last: number }];
  if (originals !== last) throw new Error('the feeds to copy must be the first ones');
  const names = (list: readonly string[]) => JSON.stringify(list).replaceAll("'", "''");
  const nameOf = (list: readonly string[]) =>
    `json_extract('${names(list)}', '$[' || ((n / ${originals}) % ${list.length}) || ']')`;
  const source = `1 + n % ${originals}`;
  database.exec(`
    CREATE TEMP TABLE copy AS WITH RECURSIVE count(n) AS (SELECT ${originals} UNION ALL SELECT n + 1 FROM count WHERE n < ${count - 1})
      SELECT n, 1 + n AS no, ${source} AS source FROM count;
    INSERT INTO feed (no, id, started_at_ms, sample_zero_at_ms, ended_at_ms, setup_json, intake_ml, ${FEED_COLUMNS})
      SELECT copy.no, printf('copy-%06d', n), started_at_ms - n * ${everyMs}, sample_zero_at_ms - n * ${everyMs}, ended_at_ms - n * ${everyMs},
        json_set(setup_json, '$.babyName', ${nameOf(babyNames)}, '$.bottleName', ${nameOf(bottleNames)}),
        intake_ml + n % 17 - 8, ${FEED_COLUMNS} FROM copy JOIN feed ON feed.no = source ORDER BY n;
    INSERT INTO packed_rows SELECT copy.no, columns FROM copy JOIN packed_rows ON feed_no = source ORDER BY copy.no;
    INSERT INTO cue SELECT copy.no, seq, at_sec, kind, because FROM copy CROSS JOIN cue ON feed_no = source ORDER BY copy.no, seq;
    INSERT INTO feed_event SELECT copy.no, seq, at_sec, kind, event_json
      FROM copy CROSS JOIN feed_event ON feed_no = source ORDER BY copy.no, seq;
    INSERT INTO refined_feed SELECT copy.no, json_deflated FROM copy JOIN refined_feed ON feed_no = source ORDER BY copy.no;
    COMMIT; PRAGMA wal_checkpoint(TRUNCATE)`);
  database.close();
}
