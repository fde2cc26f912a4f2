/** Checks that a foreign database has exactly the schema of its version. */
import { rawDatabase, readPragma } from './database.ts';
import type { FeedDatabase } from './feed-database.ts';
import { MIGRATIONS } from './migrations.ts';
import { onlyAddedToSql } from './only-added-to.ts';

interface Part {
  type: string;
  name: string;
  sql: string | null;
}

/** SQLite's own indexes for primary keys have no SQL text. */
const PARTS = "SELECT type, name, sql FROM sqlite_schema WHERE name NOT LIKE 'sqlite\\_%' ESCAPE '\\'";

const partsOf = (database: FeedDatabase): Map<string, string> =>
  new Map(
    database
      .prepare<Part>(PARTS)
      .all()
      .map(({ type, name, sql }) => [`${type} ${name}`, (sql ?? '').replaceAll(/\s+/g, ' ').trim()]),
  );

/** @returns the parts of the schema of this version */
function expectedAt(version: number): Map<string, string> {
  const fresh = rawDatabase(':memory:');
  try {
    // Steps that are functions change records, not the schema.
    for (const step of MIGRATIONS.slice(0, version)) {
      if (typeof step === 'string') fresh.exec(step);
      else if (typeof step !== 'function') fresh.exec(onlyAddedToSql(step));
    }
    return partsOf(fresh);
  } finally {
    fresh.close();
  }
}

/** @returns "trigger x", "table y": wrong and missing parts; empty for a valid database */
export function foreignParts(database: FeedDatabase): string[] {
  const [found, expected] = [partsOf(database), expectedAt(readPragma(database, 'user_version'))];
  return [...new Set([...found.keys(), ...expected.keys()])].filter(
    (name) => found.get(name) !== expected.get(name),
  );
}
