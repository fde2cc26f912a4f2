/** The part of the schema that only PostgreSQL has: before and after the shared steps (database/migrations.ts). A released step is never changed. */
import { RIGHTS, WARD_RIGHTS } from './rights.ts';

/** Lines are numbered within their site as in SQLite: one more than the highest. */
const NUMBERS = `
CREATE FUNCTION next_no() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM pg_advisory_xact_lock(hashtext('ebbline'), hashtext(NEW.site || '/' || TG_TABLE_NAME));
  EXECUTE format('SELECT coalesce(max(no), 0) + 1 FROM %I WHERE site = $1', TG_TABLE_NAME) INTO NEW.no USING NEW.site;
  RETURN NEW;
END $$;
`;

/** Names that differ only in capital letters are one, as in SQLite; accents count. */
const NOCASE = `CREATE COLLATION nocase (provider = icu, locale = 'und-u-ks-level2', deterministic = false);`;

export const BEFORE = NOCASE + NUMBERS;

/** Other files of a data folder (studies, passports of nipples) are in `side_file`. Captures are stored in chunks, partitioned by the month of their feed, so that old months can be dropped. `writer` is the connection that records it. */
const CAPTURES = `
CREATE TABLE capture (
  feed_id text COLLATE "C" NOT NULL,
  month date NOT NULL,
  note bytea,
  has_raw boolean NOT NULL DEFAULT true,
  packed text CHECK (packed IN ('cols', 'gz')),
  raw_bytes bigint NOT NULL DEFAULT 0,
  writer bigint,
  site text COLLATE "C" NOT NULL DEFAULT current_setting('ebbline.site'),
  PRIMARY KEY (site, feed_id)
);
CREATE TABLE capture_chunk (
  feed_id text COLLATE "C" NOT NULL,
  packing text NOT NULL CHECK (packing IN ('raw', 'cols', 'gz')),
  seq bigint NOT NULL,
  bytes bytea NOT NULL,
  month date NOT NULL,
  site text COLLATE "C" NOT NULL DEFAULT current_setting('ebbline.site'),
  PRIMARY KEY (site, feed_id, packing, seq, month)
) PARTITION BY RANGE (month);
ALTER TABLE capture_chunk ALTER bytes SET STORAGE EXTERNAL;
ALTER TABLE capture ENABLE ROW LEVEL SECURITY, FORCE ROW LEVEL SECURITY;
ALTER TABLE capture_chunk ENABLE ROW LEVEL SECURITY, FORCE ROW LEVEL SECURITY;
CREATE POLICY of_the_store ON capture TO CURRENT_USER USING (site = current_setting('ebbline.site'));
CREATE POLICY of_the_store ON capture_chunk TO CURRENT_USER USING (site = current_setting('ebbline.site'));

CREATE TABLE side_file (
  path text COLLATE "C" NOT NULL,
  bytes bytea NOT NULL,
  site text COLLATE "C" NOT NULL DEFAULT current_setting('ebbline.site'),
  PRIMARY KEY (site, path)
);
ALTER TABLE side_file ENABLE ROW LEVEL SECURITY, FORCE ROW LEVEL SECURITY;
CREATE POLICY of_the_store ON side_file TO CURRENT_USER USING (site = current_setting('ebbline.site'));

CREATE FUNCTION make_capture_month(month date) RETURNS void LANGUAGE plpgsql AS $$
DECLARE
  name text := 'capture_' || to_char(month, 'YYYY_MM');
BEGIN
  IF to_regclass(name) IS NOT NULL THEN RETURN; END IF;
  PERFORM pg_advisory_xact_lock(hashtext('ebbline'), hashtext(name));
  EXECUTE format('CREATE TABLE IF NOT EXISTS %I PARTITION OF capture_chunk FOR VALUES FROM (%L) TO (%L)',
    name, month, month + interval '1 month');
  EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY, FORCE ROW LEVEL SECURITY', name);
END $$;
`;

/** The audit trail is append-only, also for the store's own login; shift leaders may read it. */
const TRAIL = `
CREATE FUNCTION only_added_to() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'only added to';
END $$;
CREATE TRIGGER only_added_to BEFORE UPDATE OR DELETE OR TRUNCATE ON trail FOR EACH STATEMENT EXECUTE FUNCTION only_added_to();
`;

/**
 * A partition is dropped once no site has data in it. A login bound to a site cannot count its rows, but can see its file: only an empty table
 * that was vacuumed has none, and nobody writes to it while it is locked.
 */
const MONTHS = `
CREATE FUNCTION drop_capture_month(name text) RETURNS boolean LANGUAGE plpgsql AS $$
BEGIN
  EXECUTE format('LOCK TABLE %I IN ACCESS EXCLUSIVE MODE', name);
  IF pg_relation_size(format('%I', name)::regclass) > 0 THEN RETURN false; END IF;
  EXECUTE format('DROP TABLE %I', name);
  RETURN true;
END $$;
`;

export const AFTER: readonly string[] = [
  /* 1: captures; who may see what */ CAPTURES + RIGHTS,
  /* 2: a house with many */ TRAIL + WARD_RIGHTS,
  /* 3: months that are over */ MONTHS,
];
