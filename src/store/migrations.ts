/**
 * The database's shape, one step a version. A step that has been released is never changed: a new one is added.
 * `PRAGMA user_version` of a database is the number of steps it has been through.
 */
export const MIGRATIONS: readonly string[] = [
  /* 1: feeds with rows, cues, events and the refined pass; calibrations by sleeve; settings */ `
  CREATE TABLE feed (
    no INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE,
    state TEXT NOT NULL CHECK (state IN ('open', 'ended', 'discarded')),
    end_reason TEXT CHECK (end_reason IN ('button', 'page', 'teat-away', 'link-ended')),
    simulated INTEGER NOT NULL CHECK (simulated IN (0, 1)),
    started_at_ms REAL NOT NULL,
    sample_zero_at_ms REAL NOT NULL,
    ended_at_ms REAL,
    sleeve_id TEXT NOT NULL,
    setup_json TEXT NOT NULL,
    calibration_json TEXT NOT NULL,
    software_version TEXT NOT NULL,
    capture_file TEXT NOT NULL,
    intake_ml REAL NOT NULL,
    spilt_ml REAL NOT NULL,
    added_ml REAL NOT NULL,
    duration_sec REAL NOT NULL
  );
  CREATE INDEX feed_by_start ON feed (started_at_ms);
  CREATE INDEX feed_by_state ON feed (state);

  CREATE TABLE feed_row (
    feed_no INTEGER NOT NULL REFERENCES feed (no),
    seq INTEGER NOT NULL,
    at_sec REAL NOT NULL,
    milk_ml REAL,
    flow_ml_per_min REAL,
    intake_ml REAL NOT NULL,
    teat_in_mouth INTEGER NOT NULL,
    tilt_deg REAL NOT NULL,
    PRIMARY KEY (feed_no, seq)
  ) WITHOUT ROWID;

  CREATE TABLE cue (
    feed_no INTEGER NOT NULL REFERENCES feed (no),
    seq INTEGER NOT NULL,
    at_sec REAL NOT NULL,
    kind TEXT NOT NULL,
    because TEXT NOT NULL,
    PRIMARY KEY (feed_no, seq)
  ) WITHOUT ROWID;

  CREATE TABLE feed_event (
    feed_no INTEGER NOT NULL REFERENCES feed (no),
    seq INTEGER NOT NULL,
    at_sec REAL NOT NULL,
    kind TEXT NOT NULL,
    event_json TEXT NOT NULL,
    PRIMARY KEY (feed_no, seq)
  ) WITHOUT ROWID;

  CREATE TABLE refined_feed (
    feed_no INTEGER PRIMARY KEY REFERENCES feed (no),
    json_deflated BLOB NOT NULL
  );

  CREATE TABLE calibration (
    no INTEGER PRIMARY KEY,
    sleeve_id TEXT NOT NULL,
    calibration_json TEXT NOT NULL
  );
  CREATE INDEX calibration_by_sleeve ON calibration (sleeve_id);

  CREATE TABLE setting (name TEXT PRIMARY KEY, setting_json TEXT NOT NULL) WITHOUT ROWID;
`,
];
