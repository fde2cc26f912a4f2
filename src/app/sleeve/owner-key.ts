/** The key by which a sleeve that guides alone recognizes its computer. */
import { randomInt } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const OWNER_FILE = 'sleeve-owner';
const MOST_KEY = 2 ** 32 - 1;

/** @returns null if there is none yet: no sleeve was set up from here */
export function ownerKeyIn(folder: string): number | null {
  const path = join(folder, OWNER_FILE);
  if (!existsSync(path)) return null;
  const key = Number(readFileSync(path, 'utf8'));
  return Number.isInteger(key) && key > 0 && key < MOST_KEY ? key : null;
}

/** @returns this computer's key, made once; only its owner may read it */
export function ownerKey(folder: string): number {
  const kept = ownerKeyIn(folder);
  if (kept !== null) return kept;
  const key = randomInt(1, MOST_KEY);
  writeFileSync(join(folder, OWNER_FILE), `${key}\n`, { mode: 0o600 });
  return key;
}
