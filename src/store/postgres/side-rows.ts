/** Side files as rows of a table: a name and the bytes of each. */
import { inTransaction } from '../database/database.ts';
import type { SideFiles } from '../side-files.ts';
import { rowsOf } from '../ward/rows.ts';
import type { PostgresDatabase } from './postgres-database.ts';

/** @param prefix  with which the names begin: empty, or ending in a slash */
export function sideRows(database: PostgresDatabase, label: string, prefix = ''): SideFiles {
  const asked = <T>(sql: string, ...values: unknown[]): T[] => {
    database.ready();
    return rowsOf<T>(database, sql, values);
  };
  const put = (name: string, bytes: Buffer, onConflict: string): void =>
    void asked(
      `INSERT INTO side_file (path, bytes) VALUES (?, ?) ON CONFLICT (path) DO UPDATE SET bytes = ${onConflict} RETURNING path`,
      prefix + name,
      bytes,
    );
  return {
    where: (name = '') => `${label}, ${prefix}${name}`,
    within: (folder) => sideRows(database, label, `${prefix}${folder}/`),
    names: () =>
      asked<{ name: string }>(
        `SELECT DISTINCT split_part(substr(path, ?), '/', 1) COLLATE "C" AS name FROM side_file
         WHERE starts_with(path, ?) ORDER BY name`,
        prefix.length + 1,
        prefix,
      ).map(({ name }) => name),
    has: (name) => asked('SELECT 1 FROM side_file WHERE path = ?', prefix + name).length > 0,
    read(name) {
      const [row] = asked<{ bytes: Uint8Array }>('SELECT bytes FROM side_file WHERE path = ?', prefix + name);
      return row ? Buffer.from(row.bytes) : null;
    },
    replace: (name, content) => put(name, Buffer.from(content), 'excluded.bytes'),
    addLine: (name, line) => put(name, Buffer.from(`${line}\n`), 'side_file.bytes || excluded.bytes'),
    remove: (name) => void asked('DELETE FROM side_file WHERE path = ? RETURNING path', prefix + name),
    together(act) {
      database.ready();
      return inTransaction(database, act);
    },
  };
}
