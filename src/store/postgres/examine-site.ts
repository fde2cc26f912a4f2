/** Checks a site without changing it: captures without feeds, feeds without captures, captures that cannot be read. */
import { type Examined, examineCaptures } from '../check/examine.ts';
import { closeDatabase } from '../database/database.ts';
import { rowsOf } from '../ward/rows.ts';
import { type DatabaseChoice, databaseAddress } from './address.ts';
import { PostgresCaptures } from './postgres-captures.ts';
import { openPostgres } from './postgres-database.ts';

const NAMES = `SELECT feed_id || '.cap' AS name FROM capture WHERE has_raw AND NOT (raw_bytes = 0 AND packed IS NULL)
  UNION ALL SELECT feed_id || '.cap.' || packed AS name FROM capture WHERE packed IS NOT NULL ORDER BY name`;

/** The server checks its own pages and rows. @returns where that is, too @throws PlainError like `openStoreAt` */
export function examineSite(choice: DatabaseChoice): Examined & { where: string } {
  const address = databaseAddress(choice);
  const database = openPostgres(address);
  const captures = new PostgresCaptures(database);
  try {
    const names = rowsOf<{ name: string }>(database, NAMES, []).map(({ name }) => name);
    const examined = examineCaptures(database, names, (name) => captures.fileNamed(`captures/${name}`));
    return { where: `${address.label}, site ${address.site}`, ...examined };
  } finally {
    captures.close();
    closeDatabase(database);
  }
}
