/** Restricts stored data to their owner, since they describe a family. Folders made by hand may be readable by all. */
import * as fs from 'node:fs';
import { join } from 'node:path';
import { quietly } from './disk.ts';

const OWNER_FOLDER = 0o700;
export const OWNER_FILE = 0o600;
/** Our files at the top of a data folder. */
const OURS = /^(feeds\.sqlite(-wal|-shm)?|recording\.lock(-journal)?|sleeve-owner|set-aside-[\w-]+\.jsonl)$/;
/** Our folders in it, with their content. */
const OUR_FOLDERS = /^(captures|restoring|simulated|practice|before-restore-[\w-]+)$/;

/** @returns names inside `folder` that others may read, "." for the folder itself if it contains only our files */
export function openToOthers(folder: string): string[] {
  // Windows keeps permissions elsewhere: a home folder there is private already.
  if (process.platform === 'win32') return [];
  const names = entriesOf(folder);
  const isOurs = names.every((name) => OURS.test(name) || OUR_FOLDERS.test(name));
  return [
    ...(isOurs ? ['.'] : []),
    ...names.filter((name) => OURS.test(name)),
    ...names.filter((name) => OUR_FOLDERS.test(name)).flatMap((name) => [name, ...allInside(folder, name)]),
  ].filter((name) => isOpen(join(folder, name)));
}

/** Removes other users' permissions where possible. @returns names that were changed */
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

/** Links are not followed, since their targets are not ours. */
function isOpen(path: string): boolean {
  const file = fs.lstatSync(path, { throwIfNoEntry: false });
  return file !== undefined && !file.isSymbolicLink() && (file.mode & 0o077) !== 0;
}
