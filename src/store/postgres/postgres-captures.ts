/** Captures inside PostgreSQL: bytes in numbered chunks by feed, partitioned by the month in which the feed began. */
import * as fs from 'node:fs';
import { tmpdir } from 'node:os';
import { isAbsolute, join } from 'node:path';
import { keysOf } from '../../base/typed.ts';
import { taken } from '../captures/capture-folder.ts';
import {
  type CaptureSidecar,
  isSameCapture,
  packAsGzip,
  packByColumn,
  sidecarBytes,
} from '../captures/capture-writer.ts';
import type { CaptureAppender, Captures } from '../captures/captures.ts';
import { inTransaction } from '../database/database.ts';
import { isSafeFeedId } from '../database/feed-id.ts';
import { type CaptureLine, captureStatements } from './capture-statements.ts';
import { ChunkWriter } from './chunk-writer.ts';
import type { PostgresDatabase } from './postgres-database.ts';

/** Size of the chunks of a packed capture. */
export const CHUNK_BYTES = 256 * 1024;

type Packing = 'raw' | 'cols' | 'gz';
const ENDINGS: Record<Packing, string> = { raw: '.cap', cols: '.cap.cols', gz: '.cap.gz' };

export class PostgresCaptures implements Captures {
  readonly #statements;
  /** Folder for captures as files; created when first needed. */
  #files: string | null = null;

  constructor(private readonly database: PostgresDatabase) {
    this.#statements = captureStatements(database);
  }

  rawName = (id: string): string => nameOf(id, 'raw');

  find(id: string): string | null {
    const line = this.#line(id);
    if (!line || (!line.has_raw && line.packed === null)) return null;
    return nameOf(id, line.has_raw ? 'raw' : line.packed!);
  }

  begin(id: string, sidecar: CaptureSidecar): CaptureAppender {
    const bytes = sidecarBytes(sidecar);
    inTransaction(this.database, () => {
      const before = this.#line(id);
      const isOwn =
        before?.has_raw && before.packed === null && before.raw_bytes === 0 && sameBytes(before.note, bytes);
      if (before && !isOwn) throw taken(id);
      const month = `${sidecar.startedAt.slice(0, 7)}-01`;
      this.#statements.makeMonth.run(month);
      this.#statements.insert.run(id, month, bytes, this.database.writer);
    });
    return new ChunkWriter(this.database, id, this.#line(id)!.month, 0, 0, 0);
  }

  takeOver(id: string, from: number): CaptureAppender | null {
    return inTransaction(this.database, () => {
      // Locked, so that what the writer before is just storing is counted too.
      const line = this.#statements.lockedLine.all(id)[0];
      if (!line?.has_raw || line.raw_bytes < from) return null;
      this.#statements.setWriter.run(this.database.writer, id);
      const { next } = this.#statements.nextChunk.all(id)[0]!;
      return new ChunkWriter(this.database, id, line.month, next, line.raw_bytes, line.raw_bytes - from);
    });
  }

  undoBegin(id: string, appender: CaptureAppender): void {
    appender.close();
    try {
      this.#statements.removeBegun.run(id);
    } catch {
      // The next try reuses it.
    }
  }

  writeSidecar(id: string, sidecar: CaptureSidecar): void {
    this.#statements.setNote.run(sidecarBytes(sidecar), id);
  }

  readSidecar(id: string): Buffer | null {
    const sidecar = this.#line(id)?.note;
    return sidecar ? Buffer.from(sidecar) : null;
  }

  read(name: string): Buffer {
    const { id, packing } = partsOf(name);
    const chunks = this.#statements.chunks.all(id, packing);
    return Buffer.concat(chunks.map(({ bytes }) => bytes));
  }

  pack(id: string): string | null {
    const line = this.#line(id);
    if (!line?.has_raw) return this.find(id);
    const folder = fs.mkdtempSync(join(this.#folder(), 'pack-'));
    try {
      const raw = join(folder, 'raw');
      fs.writeFileSync(raw, this.read(nameOf(id, 'raw')), { mode: 0o600 });
      const packed = packedFrom(raw);
      if (packed === null) return null;
      this.#keepPacked(id, line.month, packed.packing, packed.bytes);
      return nameOf(id, packed.packing);
    } finally {
      fs.rmSync(folder, { recursive: true, force: true });
    }
  }

  removeRaw(id: string): void {
    inTransaction(this.database, () => {
      this.#statements.removeChunks.run(id, 'raw');
      this.#statements.setRawGone.run(id);
    });
  }

  /** It is removed together with its capture. */
  removeSidecar(): void {}

  removeEmpty(id: string): void {
    this.#statements.removeBegun.run(id);
  }

  removeAll(id: string): void {
    inTransaction(this.database, () => {
      this.#statements.removeAllChunks.run(id);
      this.#statements.remove.run(id);
    });
  }

  clearTemporaries(): string[] {
    return this.rawIds();
  }

  rawIds(): string[] {
    return this.#statements.rawIds.all(this.database.writer).map(({ id }) => id);
  }

  isHeld(id: string): boolean {
    return this.#statements.held.all(id, this.database.writer).length > 0;
  }

  fileOf(id: string, captureFile: string): string | null {
    if (isAbsolute(captureFile) && fs.existsSync(captureFile)) return captureFile;
    const name = this.find(id);
    return name && this.fileNamed(name);
  }

  /** @param name  of one that is there @returns a file with its bytes */
  fileNamed(name: string): string {
    const path = join(this.#folder(), name.slice('captures/'.length));
    fs.writeFileSync(path, this.read(name), { mode: 0o600 });
    return path;
  }

  sync(): void {}

  close(): void {
    if (this.#files !== null) fs.rmSync(this.#files, { recursive: true, force: true });
    this.#files = null;
  }

  #folder(): string {
    this.#files ??= fs.mkdtempSync(join(tmpdir(), 'ebbline-captures-'));
    return this.#files;
  }

  #line(id: string): CaptureLine | undefined {
    return this.#statements.line.all(id)[0];
  }

  #keepPacked(id: string, month: string, packing: 'cols' | 'gz', bytes: Buffer): void {
    inTransaction(this.database, () => {
      this.#statements.removeChunks.run(id, packing);
      for (let seq = 0; seq * CHUNK_BYTES < bytes.length; seq++) {
        const chunk = bytes.subarray(seq * CHUNK_BYTES, (seq + 1) * CHUNK_BYTES);
        this.#statements.chunk.run(id, packing, seq, chunk, month);
      }
      this.#statements.setPacked.run(packing, id);
    });
  }
}

const nameOf = (id: string, packing: Packing): string => {
  if (!isSafeFeedId(id)) throw new Error(`a feed's id must be safe as a file name, not "${id}"`);
  return `captures/${id}${ENDINGS[packing]}`;
};

function partsOf(name: string): { id: string; packing: Packing } {
  const [, id, ending] = /^captures\/([a-z0-9-]+)(\.cap(?:\.cols|\.gz)?)$/.exec(name) ?? [];
  const packing = keysOf(ENDINGS).find((one) => ENDINGS[one] === ending);
  if (id === undefined || packing === undefined) throw new Error(`no capture is called "${name}"`);
  return { id, packing };
}

const sameBytes = (one: Uint8Array | null, other: Uint8Array): boolean =>
  one !== null && Buffer.from(one).equals(other);

/** Packs and reads again; null if the disk does not return what was written. */
function packedFrom(raw: string): { packing: 'cols' | 'gz'; bytes: Buffer } | null {
  for (const packing of ['cols', 'gz'] as const) {
    const path = `${raw}.${packing}`;
    (packing === 'cols' ? packByColumn : packAsGzip)(raw, path);
    if (isSameCapture(raw, path)) return { packing, bytes: fs.readFileSync(path) };
  }
  return null;
}
