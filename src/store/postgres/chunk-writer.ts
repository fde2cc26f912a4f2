/** A raw capture on its way into PostgreSQL, chunk by chunk. */
import { PlainError } from '../../base/errors.ts';
import type { CaptureAppender } from '../captures/captures.ts';
import { inFeed } from '../database/database.ts';
import { chunkSql } from './capture-statements.ts';
import type { PostgresDatabase } from './postgres-database.ts';

/** Stores bytes and rows of a part in one transaction. */
export class ChunkWriter implements CaptureAppender {
  readonly #fence;
  readonly #chunk;

  /** @param stored  number of bytes in the chunks before `seq` @param skip  number of these that come again */
  constructor(
    private readonly database: PostgresDatabase,
    private readonly id: string,
    private readonly month: string,
    private seq: number,
    private stored: number,
    private skip: number,
  ) {
    this.#fence = database.prepare(
      'UPDATE capture SET raw_bytes = ? WHERE feed_id = ? AND writer = ? RETURNING 1 AS mine',
    );
    this.#chunk = database.prepare(chunkSql);
  }

  append(chunks: readonly Uint8Array[]): void {
    this.keep(chunks, () => {});
  }

  settled(): void {}

  keep(chunks: readonly Uint8Array[], keepRows: () => void): void {
    const all = Buffer.concat(chunks);
    const bytes = all.subarray(Math.min(this.skip, all.length));
    this.database.ready();
    inFeed(this.database, () => {
      // Also without bytes: a process that is no longer the writer must not add rows. A sum and no increment: it may have been stored already, if only the answer was lost.
      if (this.#fence.all(this.stored + bytes.length, this.id, this.database.writer).length === 0)
        throw overtaken(this.id);
      if (bytes.length > 0) this.#chunk.later!(this.id, 'raw', this.seq, bytes, this.month);
      keepRows();
    });
    this.skip -= all.length - bytes.length;
    this.stored += bytes.length;
    if (bytes.length > 0) this.seq++;
  }

  close(): void {}
}

const overtaken = (id: string): PlainError =>
  new PlainError(
    'store-overtaken',
    `Another process keeps the feed ${id} now; this one adds nothing to it any more.`,
    'Let the other one go on.',
  );
