/**
 * Captures of an import: listed before the first one is written, taken off the list in the transaction that stores their feeds. After an interruption
 * the next opening of the folder removes those still listed (captures/leaving.ts), and the import can be run again.
 */
import * as fs from 'node:fs';
import { join } from 'node:path';
import { readCapture } from '../../../firmware-bridge/links/capture-file.ts';
import { PlainError } from '../../base/errors.ts';
import type { FeedSummary } from '../../feed/record/feed.ts';
import { sidecarOf } from '../captures/capture-writer.ts';
import { inTransaction } from '../database/database.ts';
import type { HeldFolder } from './held-folder.ts';

export class ArrivingCaptures {
  /** Written by this import. */
  readonly #written = new Set<string>();
  #listed: string[] = [];

  /** @param besides  folder that contains the export's file */
  constructor(
    private readonly held: HeldFolder,
    private readonly besides: string,
    private readonly sayOdd: (sentence: string) => void,
  ) {}

  get count(): number {
    return this.#written.size;
  }

  /** Call it before the import's transaction, so that the list is on disk before any capture. */
  list(feedIds: Iterable<string>): void {
    const { database, captures } = this.held;
    const isKnown = database.prepare('SELECT 1 FROM feed WHERE id = ?');
    const insert = database.prepare(
      'INSERT INTO leaving (feed_id, capture_file, swept) VALUES (?, ?, 1) ON CONFLICT DO NOTHING',
    );
    this.#listed = [...feedIds].filter(
      (id) =>
        fs.existsSync(this.#pathOf(id)) &&
        isKnown.all(id).length === 0 &&
        captures.find(id) === null &&
        captures.readSidecar(id) === null,
    );
    if (this.#listed.length > 0) inTransaction(database, () => this.#listed.map((id) => insert.run(id, '')));
  }

  /** Call it inside the transaction, after all feeds. */
  strikeOff(): void {
    this.held.database
      .prepare('DELETE FROM leaving WHERE feed_id IN (SELECT value FROM json_each(?))')
      .run(JSON.stringify(this.#listed));
  }

  /** @returns the name of the packed capture; null when the export has none for this feed @throws PlainError store-taken … */
  take(feed: FeedSummary, calibration: unknown, softwareVersion: string): string | null {
    const { captures } = this.held;
    const path = this.#pathOf(feed.id);
    if (!fs.existsSync(path)) return null;
    const bytes = this.#bytesOf(path, feed.id);
    if (bytes === null) return null;
    if (this.#isHere(feed.id, bytes)) return captures.pack(feed.id) ?? captures.find(feed.id);
    const writer = captures.begin(feed.id, sidecarOf(feed, calibration, softwareVersion));
    this.#written.add(feed.id);
    try {
      writer.append([bytes]);
    } finally {
      writer.close();
    }
    const packed = captures.pack(feed.id);
    if (packed !== null) captures.removeRaw(feed.id);
    return packed ?? captures.rawName(feed.id);
  }

  /** Its feed was not imported. A capture that existed before stays. */
  giveUp(feedId: string): void {
    if (this.#written.delete(feedId)) this.held.captures.removeAll(feedId);
  }

  giveUpAll(): void {
    for (const id of [...this.#written]) this.giveUp(id);
  }

  readonly #pathOf = (feedId: string): string => join(this.besides, 'captures', `${feedId}.cap.gz`);

  /** Whether the same bytes are there already, from a feed whose database was lost. */
  #isHere(feedId: string, bytes: Uint8Array): boolean {
    const { captures } = this.held;
    const name = captures.find(feedId);
    if (name === null) return false;
    try {
      return Buffer.from(bytes).equals(readCapture(captures.fileOf(feedId, name)!).bytes);
    } catch (error) {
      if (!(error instanceof PlainError)) throw error;
      return false;
    }
  }

  /** A damaged capture is left out; its feed is imported all the same. */
  #bytesOf(path: string, feedId: string): Uint8Array | null {
    try {
      return readCapture(path).bytes;
    } catch (error) {
      if (!(error instanceof PlainError)) throw error;
      this.sayOdd(`Feed ${feedId} came in without its capture. ${error.message}`);
      return null;
    }
  }
}
