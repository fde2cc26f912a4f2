import { homedir } from 'node:os';
import { isAbsolute, join, resolve } from 'node:path';

/** The database inside a data folder. */
export const DATABASE_FILE = 'feeds.sqlite';

/** Where the feeds are kept unless a command names another folder. */
export interface DataFolderChoice {
  /** Feeds of a simulated sleeve live in a folder of their own, so that they never mix with real ones. */
  simulated: boolean;
  env?: Readonly<Record<string, string | undefined>>;
  home?: string;
}

/**
 * The data folder as an absolute path: `EBBLINE_DATA` if set, else `$XDG_DATA_HOME/ebbline`, else `~/.local/share/ebbline`;
 * for simulated feeds its subfolder `simulated`. Nothing is created.
 * Source: XDG Base Directory Specification 0.8; a relative XDG_DATA_HOME is ignored, as it demands.
 */
export function dataFolder({ simulated, env = process.env, home = homedir() }: DataFolderChoice): string {
  const base = env.EBBLINE_DATA ? resolve(env.EBBLINE_DATA) : join(xdgDataHome(env, home), 'ebbline');
  return simulated ? join(base, 'simulated') : base;
}

function xdgDataHome(env: Readonly<Record<string, string | undefined>>, home: string): string {
  const given = env.XDG_DATA_HOME;
  return given && isAbsolute(given) ? given : join(home, '.local', 'share');
}
