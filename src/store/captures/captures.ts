/** What the store needs of the place that keeps captures: files beside SQLite, or chunks inside PostgreSQL. */
import type { CaptureSidecar } from './capture-writer.ts';

/** A feed's bytes on their way into a capture. */
export interface CaptureAppender {
  /** Appends `chunks`; durable on return. Bytes that were not yet `settled` begin what is handed in next and are not kept twice. */
  append(chunks: readonly Uint8Array[]): void;
  settled(): void;
  /** Bytes and rows of one part: `keepRows` keeps what belongs beside these bytes. After an error the same comes again, longer. */
  keep(chunks: readonly Uint8Array[], keepRows: () => void): void;
  close(): void;
}

/** Names are as in a data folder: `captures/<id>.cap` (raw), `.cap.cols` or `.cap.gz` (packed). */
export interface Captures {
  rawName(id: string): string;
  /** @returns the name of the capture that is there, the raw one before a packed one; null when there is none */
  find(id: string): string | null;
  /** @throws PlainError store-taken */
  begin(id: string, sidecar: CaptureSidecar): CaptureAppender;
  /**
   * Goes on with a half-finished capture, whoever wrote it before: from so many bytes on, they are handed in again, and those that are kept are not kept
   * twice. The writer before is refused from now on. @returns null when less of it is there
   */
  takeOver(id: string, from: number): CaptureAppender | null;
  undoBegin(id: string, appender: CaptureAppender): void;
  writeSidecar(id: string, sidecar: CaptureSidecar): void;
  readSidecar(id: string): Buffer | null;
  /** @returns the bytes kept under a name from `find` */
  read(name: string): Buffer;
  /** Packs the raw capture beside itself. @returns the packed one's name; null when there is none */
  pack(id: string): string | null;
  removeRaw(id: string): void;
  removeSidecar(id: string): void;
  /** Removes a begin that nothing followed. */
  removeEmpty(id: string): void;
  removeAll(id: string): void;
  /** Removes what a killed process left half-written. @returns ids of the raw captures there */
  clearTemporaries(): string[];
  rawIds(): string[];
  /** Whether another process, which is alive, writes it. */
  isHeld(id: string): boolean;
  /** @returns a file with the bytes of the capture kept under this name, packed or raw; null when it is not to be had */
  fileOf(id: string, captureFile: string): string | null;
  /** What was removed stays so through a power cut. */
  sync(): void;
  /** Lets go of what was only needed while the store was open. */
  close(): void;
}
