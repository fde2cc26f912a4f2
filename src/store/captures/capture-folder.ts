import * as fs from 'node:fs';
import { join, resolve } from 'node:path';
import { codeOf, PlainError } from '../../base/errors.ts';
import { isSafeFeedId } from '../database/feed-id.ts';
import { type Disk, quietly, syncFolderOf } from '../disk.ts';
import type { CaptureSidecar } from './capture-writer.ts';
import {
  CaptureWriter,
  isSameCapture,
  packAsGzip,
  packByColumn,
  sidecarBytes,
  writeSidecarFile,
} from './capture-writer.ts';
import type { CaptureAppender, Captures } from './captures.ts';

const FOLDER = 'captures';

/**
 * The captures of one data folder: `<id>.cap` while a feed runs, `<id>.cap.cols` (repacked by column) afterwards, and `<id>.json` beside
 * it. `<id>.cap.gz` comes from an older version, or from a capture that could not be restored exactly from its columns.
 */
export class CaptureFolder implements Captures {
  readonly #path: string;

  constructor(
    private readonly dataFolder: string,
    private readonly disk: Disk,
  ) {
    this.#path = join(dataFolder, FOLDER);
    disk.mkdirSync(this.#path, { recursive: true, mode: 0o700 });
  }

  /** Names inside the data folder. */
  rawName = (id: string): string => `${FOLDER}/${safe(id)}.cap`;
  columnsName = (id: string): string => `${FOLDER}/${safe(id)}.cap.cols`;
  gzipName = (id: string): string => `${FOLDER}/${safe(id)}.cap.gz`;
  sidecarName = (id: string): string => `${FOLDER}/${safe(id)}.json`;

  pathOf = (name: string): string => join(this.dataFolder, name);

  /** @returns the name of the capture, the raw one if both exist; null if there is none */
  find(id: string): string | null {
    const names = [this.rawName(id), this.columnsName(id), this.gzipName(id)];
    return names.find((name) => fs.existsSync(this.pathOf(name))) ?? null;
  }

  /**
   * Creates the capture and sidecar file of a new feed. It may be repeated after an error: leftovers of the first try (an empty capture, the same
   * sidecar) are reused. Files of another feed are never touched.
   * @throws PlainError store-taken, Error of node:fs
   */
  begin(id: string, sidecar: CaptureSidecar): CaptureWriter {
    this.disk.mkdirSync(this.#path, { recursive: true, mode: 0o700 });
    const isPacked = [this.columnsName(id), this.gzipName(id)].some((name) =>
      fs.existsSync(this.pathOf(name)),
    );
    if (isPacked || this.#holdsOtherSidecar(id, sidecar)) throw taken(id);
    const writer = this.#open(id);
    try {
      this.writeSidecar(id, sidecar);
    } catch (error) {
      this.undoBegin(id, writer);
      throw error;
    }
    return writer;
  }

  takeOver(id: string, from: number): CaptureWriter | null {
    const path = this.pathOf(this.rawName(id));
    return fs.existsSync(path) && fs.statSync(path).size >= from
      ? new CaptureWriter(path, this.disk, from)
      : null;
  }

  /** Removes an empty capture, if the disk allows it. */
  undoBegin(id: string, writer: CaptureAppender): void {
    writer.close();
    for (const name of [this.sidecarName(id), this.rawName(id)]) {
      quietly(() => this.disk.rmSync(this.pathOf(name), { force: true }));
    }
  }

  #open(id: string): CaptureWriter {
    try {
      return new CaptureWriter(this.pathOf(this.rawName(id)), this.disk);
    } catch (error) {
      throw codeOf(error) === 'EEXIST' ? taken(id, error) : error;
    }
  }

  #holdsOtherSidecar(id: string, sidecar: CaptureSidecar): boolean {
    try {
      return !this.disk.readFileSync(this.pathOf(this.sidecarName(id))).equals(sidecarBytes(sidecar));
    } catch (error) {
      if (codeOf(error) === 'ENOENT') return false;
      throw error;
    }
  }

  writeSidecar(id: string, sidecar: CaptureSidecar): void {
    writeSidecarFile(this.pathOf(this.sidecarName(id)), sidecar, this.disk);
  }

  /**
   * Packs the raw capture, reads it again and compares; one packed before an interruption is compared again. The raw one stays.
   * @returns the name of the packed capture; null if there is no raw one, or the disk does not return what was
   *   written: then only the raw one is valid
   */
  pack(id: string): string | null {
    const [raw, columns, gzip] = [this.rawName(id), this.columnsName(id), this.gzipName(id)];
    const exists = (name: string) => fs.existsSync(this.pathOf(name));
    if (!exists(raw)) return this.find(id);
    const rawPath = this.pathOf(raw);
    const columnsPath = this.pathOf(columns);
    if (exists(columns) && isSameCapture(rawPath, columnsPath)) return columns;
    packByColumn(rawPath, columnsPath, this.disk);
    if (isSameCapture(rawPath, columnsPath)) return columns;
    fs.rmSync(columnsPath);
    packAsGzip(rawPath, this.pathOf(gzip), this.disk);
    if (isSameCapture(rawPath, this.pathOf(gzip))) return gzip;
    fs.rmSync(this.pathOf(gzip));
    return null;
  }

  /** Removes all captures and sidecars of a feed for good. */
  removeAll(id: string): void {
    for (const name of [this.rawName(id), this.columnsName(id), this.gzipName(id), this.sidecarName(id)]) {
      this.disk.rmSync(this.pathOf(name), { force: true });
    }
  }

  /** The sidecar of a capture that is no longer here. */
  removeSidecar(id: string): void {
    this.disk.rmSync(this.pathOf(this.sidecarName(id)), { force: true });
  }

  removeRaw(id: string): void {
    fs.rmSync(this.pathOf(this.rawName(id)), { force: true });
  }

  /** Removes an empty capture and its sidecar; one with bytes stays. */
  removeEmpty(id: string): void {
    const path = this.pathOf(this.rawName(id));
    if (fs.statSync(path).size > 0) return;
    for (const name of [path, this.pathOf(this.sidecarName(id))]) this.disk.rmSync(name, { force: true });
  }

  /** Removes what a killed process left half-written. @returns ids of the raw captures there */
  clearTemporaries(): string[] {
    const names = fs.readdirSync(this.#path);
    for (const name of names.filter((candidate) => candidate.endsWith('.tmp'))) {
      fs.rmSync(join(this.#path, name), { force: true });
    }
    return this.rawIds();
  }

  readSidecar(id: string): Buffer | null {
    const path = this.pathOf(this.sidecarName(id));
    return fs.existsSync(path) ? fs.readFileSync(path) : null;
  }

  read(name: string): Buffer {
    return fs.readFileSync(this.pathOf(name));
  }

  fileOf(id: string, captureFile: string): string | null {
    const named = resolve(this.dataFolder, captureFile);
    if (fs.existsSync(named)) return named;
    // In a backup made while the feed ended, the database may still have the raw name.
    const found = this.find(id);
    return found && this.pathOf(found);
  }

  /** Whether another process records into this folder. */
  isHeld(): boolean {
    return false;
  }

  sync(): void {
    syncFolderOf(join(this.#path, 'any'));
  }

  close(): void {}

  /** Ids of feeds with raw captures. */
  rawIds(): string[] {
    const ids = fs.readdirSync(this.#path).filter((name) => name.endsWith('.cap'));
    return ids.map((name) => name.slice(0, -'.cap'.length)).filter(isSafeFeedId);
  }
}

/** An id from a foreign database must not lead out of the folder. @throws PlainError store-unsafe */
function safe(id: string): string {
  if (isSafeFeedId(id)) return id;
  throw new PlainError(
    'store-unsafe',
    `A feed is kept under the name ${JSON.stringify(id.slice(0, 80))}, which Ebbline gives to none.`,
    'Somebody changed the database by hand. Bring a backup back that you trust.',
  );
}

/** The name of a new feed is used by another feed. */
export const taken = (id: string, cause?: unknown): PlainError =>
  new PlainError(
    'store-taken',
    `Something else is kept already under the name ${id}. It was left as it is.`,
    'End this feed; the next one gets a name of its own.',
    { cause },
  );
