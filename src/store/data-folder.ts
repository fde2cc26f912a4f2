import * as fs from 'node:fs';
import { homedir } from 'node:os';
import { isAbsolute, join, resolve } from 'node:path';
import { PlainError } from '../base/errors.ts';

/** The database inside a data folder. */
export const DATABASE_FILE = 'feeds.sqlite';

/** Choice of the default data folder. */
export interface DataFolderChoice {
  /** Simulated feeds have a folder of their own, so that they are never mixed with real ones. */
  simulated?: boolean | undefined;
  env?: Readonly<Record<string, string | undefined>>;
  home?: string;
}

/**
 * The data folder as an absolute path: `EBBLINE_DATA` if set, else `$XDG_DATA_HOME/ebbline`, else `~/.local/share/ebbline`;
 * for simulated feeds its subfolder `simulated`. Nothing is created.
 * Source: XDG Base Directory Specification 0.8; a relative XDG_DATA_HOME is ignored, as it demands.
 */
export function dataFolder({
  simulated = false,
  env = process.env,
  home = homedir(),
}: DataFolderChoice): string {
  const base = env.EBBLINE_DATA ? resolve(env.EBBLINE_DATA) : join(xdgDataHome(env, home), 'ebbline');
  return simulated ? join(base, 'simulated') : base;
}

/**
 * A database of 0 bytes beside captures was emptied, by a full disk or a person, since a new one would have no captures.
 * @throws PlainError store-damaged; nothing was changed
 */
export function refuseEmptied(folder: string): void {
  const file = join(folder, DATABASE_FILE);
  const isEmpty = (path: string): boolean => (fs.statSync(path, { throwIfNoEntry: false })?.size ?? 0) === 0;
  if (!fs.existsSync(file) || !isEmpty(file) || !isEmpty(`${file}-wal`)) return;
  const captures = join(folder, 'captures');
  if (!fs.existsSync(captures) || fs.readdirSync(captures).length === 0) return;
  throw new PlainError(
    'store-damaged',
    `The database ${file} is empty, but captures of feeds are beside it.`,
    'Bring a backup back (ebbline data restore), or make the feeds anew from their captures: ebbline data check --rebuild',
  );
}

function xdgDataHome(env: Readonly<Record<string, string | undefined>>, home: string): string {
  const given = env.XDG_DATA_HOME;
  return given && isAbsolute(given) ? given : join(home, '.local', 'share');
}
