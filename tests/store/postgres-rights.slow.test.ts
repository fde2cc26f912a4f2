/** Which rows each login can see, asked of the database directly, without our program. */
import { describe, expect, it } from 'vitest';
import { babyEntry } from '../support/babies.ts';
import { DATABASE_PASSWORD, noPostgres, sharedPostgres, type TestPostgres } from '../support/postgres.ts';
import { freshPlace, recordingAt } from '../support/postgres-store.ts';
import { begunFeed, partOfSecond } from '../support/store-samples.ts';

/** Two sites with two children each; a feed of each, corrections, feeds by hand, milk. */
function fill(place: ReturnType<typeof freshPlace>) {
  const ids: Record<string, string> = {};
  for (const site of ['north', 'south']) {
    const store = recordingAt({ ...place, site });
    for (const name of ['Wren', 'Linnet']) {
      const { id: babyId } = store.addBaby(babyEntry({ name }));
      ids[`${site} ${name}`] = babyId;
      const feed = begunFeed(`${site}-${name.toLowerCase()}`);
      store.begin({ ...feed, setup: { ...feed.setup, babyName: name, babyId } }, {});
      store.append(feed.id, partOfSecond(0));
      store.finish(feed.id, { endReason: 'button', endedAtMs: feed.startedAtMs + 1000, refined: null });
      store.correct(feed.id, { kind: 'note', text: 'private' });
    }
    store.close();
  }
  return ids;
}

const TABLES = [
  ...[
    'feed',
    'feed_row',
    'packed_rows',
    'cue',
    'told_cue',
    'feed_event',
    'refined_feed',
    'correction',
    'hand_feed',
  ],
  ...['milk_event', 'baby', 'setting', 'calibration', 'capture', 'capture_chunk', 'access'],
];

let logins = 0;
/** A login of its own in a server whose roles all databases share. */
function loginOf(server: TestPostgres, name: string, role: string | null): string {
  const login = `${name}_${server.port}_${++logins}`;
  server.sql('postgres', `CREATE ROLE ${login} LOGIN PASSWORD '${DATABASE_PASSWORD}'`);
  if (role) server.sql('postgres', `GRANT ebbline_${role} TO ${login}`);
  return login;
}

describe.skipIf(noPostgres !== null)('rights to rows', () => {
  it('give a login without rights nothing at all, whatever site it says it is of', async () => {
    const server = await sharedPostgres();
    const place = freshPlace(server);
    fill(place);
    const nobody = loginOf(server, 'nobody', null);
    for (const table of TABLES)
      expect(() =>
        server.sqlAs(nobody, place.name, `SET ebbline.site = 'north'; SELECT * FROM ${table}`),
      ).toThrow(/permission denied/);
    // With a role and no grant: the tables are there, and empty.
    const newcomer = loginOf(server, 'newcomer', 'lead');
    for (const table of TABLES)
      expect(
        server.sqlAs(newcomer, place.name, `SET ebbline.site = 'north'; SELECT count(*) FROM ${table}`),
      ).toEqual(['0']);
    expect(() => server.sqlAs(nobody, place.name, 'SELECT * FROM study_feeds()')).toThrow(
      /permission denied/,
    );
  });

  it('show a lead and a hold their site, and a parent the own child alone', async () => {
    const server = await sharedPostgres();
    const place = freshPlace(server);
    const ids = fill(place);
    const [lead, hold, parent] = [
      loginOf(server, 'lead', 'lead'),
      loginOf(server, 'hold', 'hold'),
      loginOf(server, 'parent', 'parent'),
    ];
    const north = recordingAt({ ...place, site: 'north' });
    north.admit({ login: lead, role: 'lead' });
    north.admit({ login: hold, role: 'hold' });
    north.admit({ login: parent, role: 'parent', baby: ids['north Wren']! });
    const see = (login: string, sql: string) => server.sqlAs(login, place.name, sql);
    for (const login of [lead, hold])
      expect(see(login, 'SELECT id FROM feed ORDER BY id')).toEqual(['north-linnet', 'north-wren']);
    expect(see(parent, 'SELECT id FROM feed')).toEqual(['north-wren']);
    expect(see(parent, "SELECT baby_json::json ->> 'name' FROM baby")).toEqual(['Wren']);
    for (const table of ['packed_rows', 'capture', 'capture_chunk', 'correction'])
      expect([table, see(parent, `SELECT count(*) FROM ${table}`)]).toEqual([table, ['1']]);
    expect(() => see(parent, 'SELECT * FROM setting')).toThrow(/permission denied/);
    // Only the store may change data, and naming another site or child does not help.
    for (const login of [lead, hold, parent])
      expect(() => see(login, "UPDATE feed SET state = 'discarded'")).toThrow(/permission denied/);
    expect(() => see(parent, `INSERT INTO access VALUES ('north', current_user, 'lead')`)).toThrow(
      /permission denied/,
    );
    expect(see(parent, "SET ebbline.site = 'south'; SELECT id FROM feed")).toEqual(['north-wren']);
    north.dismiss({ login: parent, role: 'parent' });
    expect(see(parent, 'SELECT id FROM feed')).toEqual([]);
  });

  it('show a researcher coded feeds of those who take part, without a name or a date', async () => {
    const server = await sharedPostgres();
    const place = freshPlace(server);
    const ids = fill(place);
    const researcher = loginOf(server, 'researcher', 'researcher');
    const [north, south] = ['north', 'south'].map((site) => recordingAt({ ...place, site }));
    north!.admit({ login: researcher, role: 'researcher', baby: ids['north Wren']!, code: 'P-01' });
    south!.admit({ login: researcher, role: 'researcher', baby: ids['south Linnet']!, code: 'P-02' });
    const rows = server.sqlAs(researcher, place.name, 'SELECT * FROM study_feeds()');
    expect(rows.map((row) => row.split('|').slice(0, 2))).toEqual([
      ['north', 'P-01'],
      ['south', 'P-02'],
    ]);
    expect(rows.join('\n')).not.toMatch(/Wren|Linnet|wren|linnet|2026|private|Juno|blue cap/);
    for (const table of TABLES)
      expect(() => server.sqlAs(researcher, place.name, `SELECT * FROM ${table}`)).toThrow(
        /permission denied/,
      );
    north!.dismiss({ login: researcher, role: 'researcher', baby: ids['north Wren']! });
    expect(server.sqlAs(researcher, place.name, 'SELECT code FROM study_feeds()')).toEqual(['P-02']);
  });

  it('stand on every table, so that none is forgotten', async () => {
    const server = await sharedPostgres();
    const place = freshPlace(server);
    recordingAt(place);
    const open = server.sql(
      place.name,
      `SELECT relname FROM pg_class WHERE relnamespace = 'public'::regnamespace AND relkind IN ('r', 'p')
       AND NOT (relrowsecurity AND relforcerowsecurity) ORDER BY relname`,
    );
    // The table of the version holds nothing personal.
    expect(open).toEqual(['ebbline_version']);
    const siteless = server.sql(
      place.name,
      `SELECT relname FROM pg_class WHERE relnamespace = 'public'::regnamespace AND relkind IN ('r', 'p')
       AND NOT EXISTS (SELECT 1 FROM pg_attribute WHERE attrelid = pg_class.oid AND attname = 'site')`,
    );
    expect(siteless).toEqual(['ebbline_version']);
  });
});
