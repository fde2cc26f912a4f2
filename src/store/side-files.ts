/** Files stored beside feeds: those of studies, and passports of nipples. In a data folder they are files, in a database rows of a table. */
import * as fs from 'node:fs';
import { dirname, join } from 'node:path';
import { replaceFile, writeAll } from './disk.ts';
import { plainly } from './faults.ts';

/** Names use slashes on every system and are relative. Written data is durable on return. */
export interface SideFiles {
  /** For people: a path, or the place in a database. */
  where(name?: string): string;
  within(folder: string): SideFiles;
  /** @returns names in this place, folders included, in order */
  names(): string[];
  has(name: string): boolean;
  /** @returns null if there is no such file */
  read(name: string): Buffer | null;
  /** Writes all of it or nothing. */
  replace(name: string, content: string | Uint8Array): void;
  /** Appends a line; an incomplete last line is removed first. */
  addLine(name: string, line: string): void;
  remove(name: string): void;
  /** What `act` reads does not change until it has written, even if several processes write. */
  together<T>(act: () => T): T;
}

/** @param folder  created with the first file */
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
    // An incomplete line is removed, since it would spoil the next one.
    fs.ftruncateSync(fd, fs.readFileSync(path).lastIndexOf('\n') + 1);
    fs.writeSync(fd, `${line}\n`);
    fs.fsyncSync(fd);
  } finally {
    fs.closeSync(fd);
  }
}
