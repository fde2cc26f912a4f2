/** The key by which a sleeve that guides alone knows its computer. */
import { randomInt } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const OWNER_FILE = 'sleeve-owner';
const MOST_KEY = 2 ** 32 - 1;

/** @returns this computer's key, made once; only its owner may read it */
export function ownerKey(folder: string): number {
  const path = join(folder, OWNER_FILE);
  if (existsSync(path)) {
    const key = Number(readFileSync(path, 'utf8'));
    if (Number.isInteger(key) && key > 0 && key < MOST_KEY) return key;
  }
  const key = randomInt(1, MOST_KEY);
  writeFileSync(path, `${key}\n`, { mode: 0o600 });
  return key;
}
