import type { FeedDatabase } from './feed-database.ts';
import type { OnlyAddedTo } from './only-added-to.ts';
import { Whose } from './whose.ts';

/** A step is SQL (the schema), a function (records), or a table that becomes append-only. */
export type Migration = string | ((database: FeedDatabase, nowMs: number) => void) | OnlyAddedTo;

/**
 * The database schema, one step a version. A released step is never changed; a new one is added.
 * `PRAGMA user_version` of a database is the number of steps already applied.
 */
export const MIGRATIONS: readonly Migration[] = [
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
  /* 2: corrections beside feeds, feeds written in by hand, what happened to milk; feeds found by what they were corrected to */ `
  ALTER TABLE feed ADD COLUMN corrected_json TEXT;
  ALTER TABLE feed ADD COLUMN at_ms REAL AS (coalesce(json_extract(corrected_json, '$.startedAtMs'), started_at_ms)) VIRTUAL;
  ALTER TABLE feed ADD COLUMN baby_id TEXT COLLATE NOCASE
    AS (json_extract(coalesce(json_extract(corrected_json, '$.setup'), setup_json), '$.babyId')) VIRTUAL;
  ALTER TABLE feed ADD COLUMN baby_name TEXT COLLATE NOCASE
    AS (json_extract(coalesce(json_extract(corrected_json, '$.setup'), setup_json), '$.babyName')) VIRTUAL;
  ALTER TABLE feed ADD COLUMN bottle_name TEXT COLLATE NOCASE
    AS (json_extract(coalesce(json_extract(corrected_json, '$.setup'), setup_json), '$.bottleName')) VIRTUAL;
  ALTER TABLE feed ADD COLUMN teat_name TEXT COLLATE NOCASE
    AS (json_extract(coalesce(json_extract(corrected_json, '$.setup'), setup_json), '$.teatName')) VIRTUAL;
  DROP INDEX feed_by_start;
  CREATE INDEX feed_by_time ON feed (at_ms);
  CREATE INDEX feed_by_baby_id ON feed (baby_id, at_ms);
  CREATE INDEX feed_by_baby_name ON feed (baby_name, at_ms);
  CREATE INDEX feed_by_bottle ON feed (bottle_name, at_ms);
  CREATE INDEX feed_by_teat ON feed (teat_name, at_ms);

  CREATE TABLE hand_feed (
    no INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE,
    written_at_ms REAL NOT NULL,
    entry_json TEXT NOT NULL,
    corrected_json TEXT,
    withdrawn INTEGER NOT NULL DEFAULT 0 CHECK (withdrawn IN (0, 1)),
    at_ms REAL NOT NULL AS (json_extract(coalesce(corrected_json, entry_json), '$.atMs')) VIRTUAL,
    baby_id TEXT COLLATE NOCASE AS (json_extract(coalesce(corrected_json, entry_json), '$.babyId')) VIRTUAL,
    baby_name TEXT COLLATE NOCASE AS (json_extract(coalesce(corrected_json, entry_json), '$.babyName')) VIRTUAL
  );
  CREATE INDEX hand_feed_by_time ON hand_feed (at_ms);

  CREATE TABLE correction (
    no INTEGER PRIMARY KEY,
    feed_no INTEGER REFERENCES feed (no),
    hand_feed_no INTEGER REFERENCES hand_feed (no),
    made_at_ms REAL NOT NULL,
    made_by TEXT,
    kind TEXT NOT NULL,
    correction_json TEXT NOT NULL,
    CHECK ((feed_no IS NULL) <> (hand_feed_no IS NULL))
  );
  CREATE INDEX correction_by_feed ON correction (feed_no);
  CREATE INDEX correction_by_hand_feed ON correction (hand_feed_no);

  CREATE TABLE milk_event (
    no INTEGER PRIMARY KEY,
    at_ms REAL NOT NULL,
    baby_id TEXT COLLATE NOCASE,
    container TEXT,
    kind TEXT NOT NULL,
    entry_json TEXT NOT NULL
  );
  CREATE INDEX milk_event_by_time ON milk_event (at_ms);
`,
  /* 3: rows of ended feeds, packed */ `
  CREATE TABLE packed_rows (
    feed_no INTEGER PRIMARY KEY REFERENCES feed (no),
    columns BLOB NOT NULL
  );
`,
  /* 4: babies; what a feed's cues came by */ `
  CREATE TABLE baby (
    id TEXT PRIMARY KEY,
    created_at_ms REAL NOT NULL,
    baby_json TEXT NOT NULL
  ) WITHOUT ROWID;
  ALTER TABLE feed ADD COLUMN ran_json TEXT;
`,
  /* 5: the birth date that was said beside a feed */ `
  ALTER TABLE feed ADD COLUMN baby_birth_date TEXT
    AS (json_extract(coalesce(json_extract(corrected_json, '$.setup'), setup_json), '$.babyBirthDate')) VIRTUAL;
`,
  /* 6: feeds that name a baby by its name alone come under its id, where it can be no other; the rest is asked */
  (database, nowMs) => new Whose(database).bindCertain(nowMs),
  /* 7: captures of deleted feeds that are still to go */ `
  CREATE TABLE leaving (
    feed_id TEXT PRIMARY KEY,
    capture_file TEXT NOT NULL,
    swept INTEGER NOT NULL
  ) WITHOUT ROWID;
`,
  /* 8: what a caregiver was told of the cues; of feeds from before it is not known */ `
  CREATE TABLE told_cue (
    feed_no INTEGER NOT NULL REFERENCES feed (no),
    seq INTEGER NOT NULL,
    since_sec REAL NOT NULL,
    at_sec REAL NOT NULL,
    shown TEXT NOT NULL,
    output TEXT NOT NULL CHECK (output IN ('page', 'light', 'sound')),
    PRIMARY KEY (feed_no, seq)
  ) WITHOUT ROWID;
  ALTER TABLE feed ADD COLUMN is_told_kept INTEGER NOT NULL DEFAULT 0 CHECK (is_told_kept IN (0, 1));
`,
  /* 9: a house with many: who lies where, labels, what bottles hold, what is bound for a feed; who may see whom; the trail */ `
  CREATE TABLE stay (
    no INTEGER PRIMARY KEY,
    baby_id TEXT NOT NULL,
    cot TEXT NOT NULL,
    from_ms REAL NOT NULL,
    until_ms REAL
  );
  CREATE INDEX stay_by_baby ON stay (baby_id);

  CREATE TABLE label (
    code TEXT PRIMARY KEY,
    kind TEXT NOT NULL CHECK (kind IN ('child', 'bottle', 'sleeve')),
    baby_id TEXT,
    sleeve_no REAL,
    made_at_ms REAL NOT NULL,
    void_at_ms REAL
  ) WITHOUT ROWID;

  CREATE TABLE filling (
    no INTEGER PRIMARY KEY,
    bottle TEXT NOT NULL,
    baby_id TEXT NOT NULL,
    container TEXT NOT NULL,
    at_ms REAL NOT NULL,
    over_at_ms REAL
  );
  CREATE INDEX filling_by_bottle ON filling (bottle);

  CREATE TABLE binding (
    no INTEGER PRIMARY KEY,
    at_ms REAL NOT NULL,
    baby_id TEXT NOT NULL,
    bottle TEXT NOT NULL,
    sleeve_no REAL NOT NULL,
    container TEXT NOT NULL,
    made_by TEXT,
    feed_id TEXT,
    over_at_ms REAL
  );
  CREATE INDEX binding_by_baby ON binding (baby_id);

  CREATE TABLE consent (
    no INTEGER PRIMARY KEY,
    baby_id TEXT NOT NULL,
    what TEXT NOT NULL CHECK (what IN ('parent', 'research')),
    person TEXT,
    from_ms REAL NOT NULL,
    until_ms REAL,
    given_to TEXT
  );
  CREATE INDEX consent_by_baby ON consent (baby_id);

  CREATE TABLE trail (
    no INTEGER PRIMARY KEY,
    at_ms REAL NOT NULL,
    person TEXT NOT NULL,
    role TEXT NOT NULL,
    act TEXT NOT NULL,
    baby_id TEXT,
    more TEXT,
    seal TEXT NOT NULL
  );
`,
  /* 10: what stands in the trail stays as it is */ { onlyAddedTo: 'trail' },
];
