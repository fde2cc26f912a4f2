/** Every statement about captures in PostgreSQL. */
import { type PostgresDatabase, WRITERS } from './postgres-database.ts';

export interface CaptureLine {
  month: string;
  note: Uint8Array | null;
  has_raw: boolean;
  packed: 'cols' | 'gz' | null;
  raw_bytes: number;
}

export const chunkSql = `INSERT INTO capture_chunk (feed_id, packing, seq, bytes, month) VALUES (?, ?, ?, ?, ?::text::date)
  ON CONFLICT (feed_id, packing, seq, month) DO UPDATE SET bytes = excluded.bytes`;

const lineSql =
  'SELECT month::text AS month, note, has_raw, packed, raw_bytes FROM capture WHERE feed_id = ?';

/** A writer of captures holds a lock with its number as long as it is connected. */
const ALIVE = `EXISTS (SELECT 1 FROM pg_locks WHERE locktype = 'advisory' AND classid = ${WRITERS} AND objid = writer::oid
  AND objsubid = 2 AND database = (SELECT oid FROM pg_database WHERE datname = current_database()))`;

export function captureStatements(database: PostgresDatabase) {
  const prepare = <Row>(sql: string) => database.prepare<Row>(sql);
  return {
    line: prepare<CaptureLine>(lineSql),
    lockedLine: prepare<CaptureLine>(`${lineSql} FOR UPDATE`),
    makeMonth: prepare('SELECT make_capture_month(?::text::date)'),
    insert: prepare(`INSERT INTO capture (feed_id, month, note, writer) VALUES (?, ?::text::date, ?, ?)
      ON CONFLICT (feed_id) DO UPDATE SET writer = excluded.writer`),
    setWriter: prepare('UPDATE capture SET writer = ? WHERE feed_id = ?'),
    setNote: prepare('UPDATE capture SET note = ? WHERE feed_id = ?'),
    setPacked: prepare('UPDATE capture SET packed = ? WHERE feed_id = ?'),
    setRawGone: prepare('UPDATE capture SET has_raw = false WHERE feed_id = ?'),
    nextChunk: prepare<{ next: number }>(
      "SELECT coalesce(max(seq), -1) + 1 AS next FROM capture_chunk WHERE feed_id = ? AND packing = 'raw'",
    ),
    chunk: prepare(chunkSql),
    chunks: prepare<{ bytes: Uint8Array }>(
      'SELECT bytes FROM capture_chunk WHERE feed_id = ? AND packing = ? ORDER BY seq',
    ),
    removeChunks: prepare('DELETE FROM capture_chunk WHERE feed_id = ? AND packing = ?'),
    removeAllChunks: prepare('DELETE FROM capture_chunk WHERE feed_id = ?'),
    remove: prepare('DELETE FROM capture WHERE feed_id = ?'),
    removeBegun: prepare('DELETE FROM capture WHERE feed_id = ? AND raw_bytes = 0 AND packed IS NULL'),
    rawIds: prepare<{ id: string }>(
      `SELECT feed_id AS id FROM capture WHERE has_raw AND (writer = ? OR NOT ${ALIVE}) ORDER BY feed_id`,
    ),
    held: prepare(`SELECT 1 FROM capture WHERE feed_id = ? AND writer <> ? AND ${ALIVE}`),
  };
}
