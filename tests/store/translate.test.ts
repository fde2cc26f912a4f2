/** The one schema and the store's statements in PostgreSQL's words; what is not known there is refused, not passed on. */
import { describe, expect, it } from 'vitest';
import { MIGRATIONS } from '../../src/store/database/migrations.ts';
import { schemaFor, statementFor } from '../../src/store/postgres/translate.ts';

describe('a statement', () => {
  it('gets numbers for its values, and none inside a text', () => {
    expect(statementFor("SELECT '?' FROM feed WHERE no = ? AND id = ?")).toBe(
      "SELECT '?' FROM feed WHERE no = $1 AND id = $2",
    );
  });

  it('is said in the other words', () => {
    expect(statementFor("SELECT json_extract(baby_json, '$.name') AS theName FROM baby")).toBe(
      `SELECT ((baby_json)::json ->> 'name') AS "theName" FROM baby`,
    );
    expect(statementFor('INSERT INTO a (b, c) VALUES (?, ?) ON CONFLICT (b) DO NOTHING')).toContain(
      'ON CONFLICT (site, b)',
    );
    expect(statementFor('SELECT 1 WHERE a IN (SELECT value COLLATE NOCASE FROM json_each(?))')).toContain(
      'value COLLATE nocase FROM json_array_elements_text($1::json)',
    );
  });

  it('in words of SQLite that are not known there is refused', () => {
    for (const sql of [
      'INSERT OR REPLACE INTO a VALUES (?)',
      'SELECT iif(a, b, c)',
      'SELECT 1 WHERE a IS ?',
      'PRAGMA a',
    ])
      expect(() => statementFor(sql)).toThrow(/no word of PostgreSQL/);
  });
});

describe('the schema', () => {
  const made = MIGRATIONS.filter((step) => typeof step === 'string')
    .map(schemaFor)
    .join(';\n');

  it('gives each table a site, its rule, and keys within the site', () => {
    const tables = [...made.matchAll(/^CREATE TABLE (\w+) \((.*)\);?$/gm)];
    expect(tables.length).toBeGreaterThan(12);
    for (const [, name, inside] of tables) {
      expect([name, inside]).toEqual([name, expect.stringContaining('site text')]);
      expect([name, inside]).toEqual([name, expect.stringMatching(/PRIMARY KEY \(site, /)]);
      expect(made).toContain(`ALTER TABLE ${name} ENABLE ROW LEVEL SECURITY, FORCE ROW LEVEL SECURITY`);
      expect(made).toContain(`CREATE POLICY of_the_store ON ${name} `);
    }
  });

  it('works the same columns out', () => {
    expect(made).toContain(
      "at_ms double precision GENERATED ALWAYS AS (coalesce(((corrected_json)::json ->> 'startedAtMs')::double precision, started_at_ms)) STORED",
    );
    expect(made).toContain('FOREIGN KEY (site, feed_no) REFERENCES feed (site, no)');
  });

  it('refuses a step that it does not know', () => {
    for (const step of ['CREATE VIEW a AS SELECT 1', 'CREATE TABLE a (b ANY)', 'ALTER TABLE a RENAME TO b'])
      expect(() => schemaFor(step)).toThrow(/known to PostgreSQL/);
  });
});
