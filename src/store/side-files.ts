/** Files that belong to what is kept beside feeds: those of studies, passports of nipples. In a data folder they are files, in a database lines of a table. */
import * as fs from 'node:fs';
import { dirname, join } from 'node:path';
import { replaceFile, writeAll } from './disk.ts';
import { plainly } from './faults.ts';

/** Names have slashes on every system, and are told from where these files lie. What is written is durable on return. */
export interface SideFiles {
  /** For people: a path, or the place in a database. */
  where(name?: string): string;
  within(folder: string): SideFiles;
  /** @returns what lies right here, folders too, in order */
  names(): string[];
  has(name: string): boolean;
  /** @returns null where there is no such file */
  read(name: string): Buffer | null;
  /** Whole, or not at all. */
  replace(name: string, content: string | Uint8Array): void;
  /** Adds a line at the end; one before it that was cut goes. */
  addLine(name: string, line: string): void;
  remove(name: string): void;
  /** What `act` reads stays so while it writes, where several processes may write. */
  together<T>(act: () => T): T;
}

/** @param folder  made once something is written */
export function sideFilesIn(folder: string): SideFiles {
  const at = (name: string): string => join(folder, name);
  const make = (name: string): void => {
    fs.mkdirSync(dirname(at(name)), { recursive: true, mode: 0o700 });
  };
  return {
    where: (name = '') => at(name),
    within: (inside) => sideFilesIn(at(inside)),
    names: () => (fs.existsSync(folder) ? fs.readdirSync(folder).sort() : []),
    has: (name) => fs.existsSync(at(name)),
    read: (name) => (fs.existsSync(at(name)) ? fs.readFileSync(at(name)) : null),
    replace(name, content) {
      plainly(folder, () => {
        make(name);
        replaceFile(fs, at(name), (fd) => writeAll(fs, fd, Buffer.from(content)));
      });
    },
    addLine(name, line) {
      plainly(folder, () => {
        make(name);
        addLineTo(at(name), line);
      });
    },
    remove: (name) => plainly(folder, () => fs.rmSync(at(name), { recursive: true, force: true })),
    together: (act) => act(),
  };
}

function addLineTo(path: string, line: string): void {
  const fd = fs.openSync(path, 'a', 0o600);
  try {
    // A line that was cut goes: it would spoil the one that is added.
    fs.ftruncateSync(fd, fs.readFileSync(path).lastIndexOf('\n') + 1);
    fs.writeSync(fd, `${line}\n`);
    fs.fsyncSync(fd);
  } finally {
    fs.closeSync(fd);
  }
}
