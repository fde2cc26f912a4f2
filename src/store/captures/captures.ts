/** The interface of the place for captures: files beside SQLite, or chunks inside PostgreSQL. */
import type { CaptureSidecar } from './capture-writer.ts';

/** An open capture to which a feed's bytes are appended. */
export interface CaptureAppender {
  /** Appends `chunks`; durable on return. Until `settled` the next call passes the same bytes again; they are not stored twice. */
  append(chunks: readonly Uint8Array[]): void;
  settled(): void;
  /** Bytes and rows of one part: `keepRows` stores the rows that belong to these bytes. After an error the call is repeated, with more bytes. */
  keep(chunks: readonly Uint8Array[], keepRows: () => void): void;
  close(): void;
}

/** Names are as in a data folder: `captures/<id>.cap` (raw), `.cap.cols` or `.cap.gz` (packed). */
export interface Captures {
  rawName(id: string): string;
  /** @returns the name of the capture, the raw one if both exist; null if there is none */
  find(id: string): string | null;
  /** @throws PlainError store-taken */
  begin(id: string, sidecar: CaptureSidecar): CaptureAppender;
  /**
   * Continues an unfinished capture of any writer at byte `from`: the bytes after it are handed in again, and those already stored are not stored
   * twice. The earlier writer is refused from now on. @returns null if less of it is stored
   */
  takeOver(id: string, from: number): CaptureAppender | null;
  undoBegin(id: string, appender: CaptureAppender): void;
  writeSidecar(id: string, sidecar: CaptureSidecar): void;
  readSidecar(id: string): Buffer | null;
  /** @returns the bytes kept under a name from `find` */
  read(name: string): Buffer;
  /** Packs the raw capture, which stays. @returns the packed one's name; null if there is none */
  pack(id: string): string | null;
  removeRaw(id: string): void;
  removeSidecar(id: string): void;
  /** Removes an empty capture. */
  removeEmpty(id: string): void;
  removeAll(id: string): void;
  /** Removes what a killed process left half-written. @returns ids of the raw captures there */
  clearTemporaries(): string[];
  rawIds(): string[];
  /** Whether another running process writes it. */
  isHeld(id: string): boolean;
  /** @returns a file with the bytes of the capture kept under this name, packed or raw; null if it is not available */
  fileOf(id: string, captureFile: string): string | null;
  /** Makes removals durable. */
  sync(): void;
  /** Frees resources that were needed while the store was open. */
  close(): void;
}
