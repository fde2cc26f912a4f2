import * as fs from 'node:fs';
import { join } from 'node:path';
import type { CaptureNote } from './capture-writer.ts';
import { CaptureWriter, packCapture, writeCaptureNote } from './capture-writer.ts';
import type { Disk } from './disk.ts';

const FOLDER = 'captures';

/** The captures of one data folder: `<id>.cap` while a feed runs, `<id>.cap.gz` afterwards, `<id>.json` beside either. */
export class CaptureFolder {
  readonly #path: string;

  constructor(
    private readonly dataFolder: string,
    private readonly disk: Disk,
  ) {
    this.#path = join(dataFolder, FOLDER);
    fs.mkdirSync(this.#path, { recursive: true });
  }

  /** Names inside the data folder. */
  rawName = (id: string): string => `${FOLDER}/${id}.cap`;
  packedName = (id: string): string => `${FOLDER}/${id}.cap.gz`;

  /** Makes the capture of a new feed and the note beside it. */
  begin(id: string, note: CaptureNote): CaptureWriter {
    const writer = new CaptureWriter(this.#absolute(this.rawName(id)), this.disk);
    this.writeNote(id, note);
    return writer;
  }

  /** Undoes `begin`. */
  remove(id: string): void {
    fs.rmSync(this.#absolute(this.rawName(id)), { force: true });
    fs.rmSync(this.#notePath(id), { force: true });
  }

  writeNote(id: string, note: CaptureNote): void {
    writeCaptureNote(this.#notePath(id), note, this.disk);
  }

  /** Packs the raw capture unless that was done before. @returns false when there is neither a raw nor a packed one */
  pack(id: string): boolean {
    const packedPath = this.#absolute(this.packedName(id));
    if (fs.existsSync(packedPath)) return true;
    const rawPath = this.#absolute(this.rawName(id));
    if (!fs.existsSync(rawPath)) return false;
    packCapture(rawPath, packedPath, this.disk);
    return true;
  }

  removeRaw(id: string): void {
    fs.rmSync(this.#absolute(this.rawName(id)), { force: true });
  }

  /** Removes what a killed process left half-written. @returns ids of the raw captures there */
  clearTemporaries(): string[] {
    const names = fs.readdirSync(this.#path);
    for (const name of names.filter((candidate) => candidate.endsWith('.tmp'))) {
      fs.rmSync(join(this.#path, name), { force: true });
    }
    return names.filter((name) => name.endsWith('.cap')).map((name) => name.slice(0, -'.cap'.length));
  }

  #absolute = (name: string): string => join(this.dataFolder, name);
  #notePath = (id: string): string => join(this.#path, `${id}.json`);
}
