/**
 * Which rows a login may see, enforced by the database. The store's own login owns the tables and is bound to the site that it named when connecting.
 * Everybody else has a login of their own with one of four roles, and may only read; changes are made through the program.
 *
 *   hold        holds bottles: all of the site
 *   lead        leads a shift: all of the site
 *   parent      the own child, and everything of its feeds
 *   researcher  coded feeds of children whose families take part: no names, no dates, no notes
 */

const AS = ['hold', 'lead', 'parent', 'researcher'] as const;
export type StaffRole = (typeof AS)[number];

const ROLES = AS.map(
  (role) => `
DO $$ BEGIN
  IF NOT EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'ebbline_${role}') THEN CREATE ROLE ebbline_${role}; END IF;
EXCEPTION WHEN duplicate_object OR unique_violation THEN NULL;
END $$;`,
).join('');

const STAFF = 'ebbline_hold, ebbline_lead';
const READERS = `${STAFF}, ebbline_parent`;

/** Sees only the caller's own grants; used inside the rules below. */
const ACCESS = `
CREATE TABLE access (
  site text COLLATE "C" NOT NULL DEFAULT current_setting('ebbline.site'),
  login name NOT NULL,
  role text NOT NULL CHECK (role IN ('hold', 'lead', 'parent')),
  baby_id text COLLATE nocase NOT NULL DEFAULT '',
  CHECK (role <> 'parent' OR baby_id <> ''),
  PRIMARY KEY (site, login, role, baby_id)
);
ALTER TABLE access ENABLE ROW LEVEL SECURITY, FORCE ROW LEVEL SECURITY;
CREATE POLICY of_the_store ON access TO CURRENT_USER USING (site = current_setting('ebbline.site'));
CREATE POLICY own_grants ON access FOR SELECT TO ${READERS} USING (login = current_user);
GRANT SELECT ON access TO ${READERS};
`;

const isStaffOf = (table: string): string =>
  `EXISTS (SELECT 1 FROM access WHERE access.site = ${table}.site AND access.role IN ('hold', 'lead'))`;
const isParentOf = (table: string, baby: string): string =>
  `EXISTS (SELECT 1 FROM access WHERE access.site = ${table}.site AND access.role = 'parent' AND access.baby_id = ${table}.${baby} COLLATE nocase)`;

const rule = (table: string, who: string, test: string): string => `
GRANT SELECT ON ${table} TO ${who};
CREATE POLICY of_people ON ${table} FOR SELECT TO ${who} USING (${test});`;

/** A row of a feed is visible if the feed is. */
const withFeed = (table: string): string =>
  rule(
    table,
    READERS,
    `EXISTS (SELECT 1 FROM feed WHERE feed.site = ${table}.site AND feed.no = ${table}.feed_no)`,
  );
const withFeedId = (table: string): string =>
  rule(
    table,
    READERS,
    `EXISTS (SELECT 1 FROM feed WHERE feed.site = ${table}.site AND feed.id = ${table}.feed_id)`,
  );
const ofBaby = (table: string, baby: string): string =>
  rule(table, READERS, `${isStaffOf(table)} OR ${isParentOf(table, baby)}`);

/**
 * The view for a study: a function of the store's own login that checks who calls, site by site. A child is shown by its code, a feed by its number among the
 * child's feeds, a day counted from the child's first feed.
 */
const STUDY = `
CREATE TABLE study_grant (
  login name NOT NULL,
  baby_id text COLLATE nocase NOT NULL,
  code text NOT NULL,
  site text COLLATE "C" NOT NULL DEFAULT current_setting('ebbline.site'),
  PRIMARY KEY (site, login, baby_id)
);
ALTER TABLE study_grant ENABLE ROW LEVEL SECURITY, FORCE ROW LEVEL SECURITY;
CREATE POLICY of_the_store ON study_grant TO CURRENT_USER USING (site = current_setting('ebbline.site'));
CREATE POLICY of_the_function ON study_grant FOR SELECT TO CURRENT_USER USING (login = session_user);
CREATE FUNCTION study_feeds() RETURNS TABLE (site text, code text, feed_of_child bigint, day_of_child integer,
  intake_ml double precision, spilt_ml double precision, added_ml double precision, duration_sec double precision, end_reason text)
LANGUAGE plpgsql SECURITY DEFINER SET search_path = public AS $$
DECLARE
  granted record;
  before text := coalesce(current_setting('ebbline.site', true), '');
BEGIN
  PERFORM set_config('ebbline.site', before, true);
  FOR granted IN SELECT g.site, g.code, g.baby_id FROM study_grant g WHERE g.login = session_user ORDER BY g.site, g.code LOOP
    PERFORM set_config('ebbline.site', granted.site, true);
    RETURN QUERY SELECT granted.site, granted.code, row_number() OVER (ORDER BY f.at_ms, f.no),
      floor((f.at_ms - min(f.at_ms) OVER ()) / 86400000)::integer,
      f.intake_ml, f.spilt_ml, f.added_ml, f.duration_sec, f.end_reason
      FROM feed f WHERE f.baby_id = granted.baby_id AND f.state = 'ended' ORDER BY f.at_ms, f.no;
  END LOOP;
  PERFORM set_config('ebbline.site', before, true);
END $$;
REVOKE ALL ON FUNCTION study_feeds() FROM PUBLIC;
GRANT EXECUTE ON FUNCTION study_feeds() TO ebbline_researcher;
`;

export const RIGHTS = [
  ROLES,
  ACCESS,
  ofBaby('feed', 'baby_id'),
  ofBaby('hand_feed', 'baby_id'),
  ofBaby('milk_event', 'baby_id'),
  ofBaby('baby', 'id'),
  ...['feed_row', 'packed_rows', 'cue', 'told_cue', 'feed_event', 'refined_feed'].map(withFeed),
  ...['capture', 'capture_chunk'].map(withFeedId),
  rule(
    'correction',
    READERS,
    `EXISTS (SELECT 1 FROM feed WHERE feed.site = correction.site AND feed.no = correction.feed_no)
     OR EXISTS (SELECT 1 FROM hand_feed WHERE hand_feed.site = correction.site AND hand_feed.no = correction.hand_feed_no)`,
  ),
  ...['setting', 'calibration'].map((table) => rule(table, STAFF, isStaffOf(table))),
  STUDY,
].join('\n');

/** Children in cots, labels and bindings are for staff; the audit trail is for shift leaders. */
export const WARD_RIGHTS = [
  ...['stay', 'label', 'filling', 'binding'].map((table) => rule(table, STAFF, isStaffOf(table))),
  rule(
    'trail',
    'ebbline_lead',
    `EXISTS (SELECT 1 FROM access WHERE access.site = trail.site AND access.role = 'lead')`,
  ),
].join('\n');
