/** Only the owner may read what is kept: a feed says much about a family. Folders that were made by hand may be open to all. */
import * as fs from 'node:fs';
import { join } from 'node:path';
import { quietly } from './disk.ts';

export const OWNER_FOLDER = 0o700;
export const OWNER_FILE = 0o600;
/** Files of ours at the top of a data folder. */
const OURS = /^(feeds\.sqlite(-wal|-shm)?|recording\.lock(-journal)?|sleeve-owner|set-aside-[\w-]+\.jsonl)$/;
/** Folders of ours in it, with all that is in them. */
const OUR_FOLDERS = /^(captures|restoring|simulated|practice|before-restore-[\w-]+)$/;

/** @returns names inside `folder` that others may read, "." for the folder itself where it holds nothing but ours */
export function openToOthers(folder: string): string[] {
  // Windows keeps rights elsewhere: a home folder there is its owner's alone.
  if (process.platform === 'win32') return [];
  const names = entriesOf(folder);
  const isOurs = names.every((name) => OURS.test(name) || OUR_FOLDERS.test(name));
  return [
    ...(isOurs ? ['.'] : []),
    ...names.filter((name) => OURS.test(name)),
    ...names.filter((name) => OUR_FOLDERS.test(name)).flatMap((name) => [name, ...allInside(folder, name)]),
  ].filter((name) => isOpen(join(folder, name)));
}

/** Takes others' rights away, as far as this user may. @returns what was open and is not any more */
export function closeToOthers(folder: string): string[] {
  const open = openToOthers(folder);
  for (const name of open) {
    const path = join(folder, name);
    quietly(() => fs.chmodSync(path, fs.statSync(path).isDirectory() ? OWNER_FOLDER : OWNER_FILE));
  }
  const still = new Set(openToOthers(folder));
  return open.filter((name) => !still.has(name));
}

function entriesOf(folder: string): string[] {
  try {
    return fs.readdirSync(folder);
  } catch {
    return [];
  }
}

const allInside = (folder: string, name: string): string[] =>
  fs.lstatSync(join(folder, name)).isDirectory()
    ? fs
        .readdirSync(join(folder, name), { recursive: true, encoding: 'utf8' })
        .map((inside) => join(name, inside))
    : [];

/** A link is not followed: what it leads to is somebody else's. */
function isOpen(path: string): boolean {
  const file = fs.lstatSync(path, { throwIfNoEntry: false });
  return file !== undefined && !file.isSymbolicLink() && (file.mode & 0o077) !== 0;
}
