/** Passports of the family's own nipples, one file a nipple, newest last; and what they say before a feed. */

import { createHash } from 'node:crypto';
import * as fs from 'node:fs';
import { join } from 'node:path';
import { nameKey } from '../../base/babies.ts';
import { ownJson } from '../../base/typed.ts';
import type { FeedSetup } from '../../feed/record/feed.ts';
import type { Guided } from '../../feed/recording/guided.ts';
import { SHIPPED_PROFILE } from '../../pacing/profile/shipped-profile.ts';
import { teatPassport, volumesShown } from '../../research/teat/passport.ts';
import type { TeatPassport } from '../../research/teat/passport-format.ts';
import { replaceFile, writeAll } from '../../store/disk.ts';
import { plainly } from '../../store/faults.ts';

export type { TeatPassport };
export { volumesShown };

const folderOf = (data: string): string => join(data, 'nipples');
const fileOf = (data: string, teat: string): string =>
  join(folderOf(data), `${createHash('sha256').update(nameKey(teat)).digest('hex').slice(0, 16)}.json`);

const read = (path: string): TeatPassport[] =>
  fs.existsSync(path) ? ownJson<TeatPassport[]>(fs.readFileSync(path, 'utf8')) : [];

/** @returns all passports of a nipple, newest last */
export const passportsOf = (data: string, teat: string): TeatPassport[] => read(fileOf(data, teat));

/** All passports of each nipple, newest last. */
const allPassports = (data: string): TeatPassport[][] =>
  (fs.existsSync(folderOf(data)) ? fs.readdirSync(folderOf(data)) : [])
    .filter((name) => name.endsWith('.json'))
    .map((name) => read(join(folderOf(data), name)));

/** @returns the newest passport of each nipple, by its name */
export const newestPassports = (data: string): TeatPassport[] =>
  allPassports(data)
    .flatMap((passports) => passports.at(-1) ?? [])
    .sort((a, b) => a.teat.localeCompare(b.teat));

/** By its last passport without suction it certainly gives more than the lasting pace. */
function runsByItself(passports: readonly TeatPassport[], lastingMlPerMin: number): boolean {
  const free = passports.findLast(({ conditions }) => conditions.suction === 'free');
  return free !== undefined && free.lowMlPerMin > lastingMlPerMin;
}

/** Names of nipples that should not be packed for a day away, where no sleeve warns the caregiver. */
export const runningTeats = (data: string): string[] =>
  allPassports(data)
    .filter((passports) => runsByItself(passports, SHIPPED_PROFILE.buckets.lasting.rateMlPerMin.value))
    .flatMap((passports) => passports.at(-1)?.teat ?? [])
    .sort((a, b) => a.localeCompare(b));

const isAlike = (one: TeatPassport, other: TeatPassport): boolean =>
  JSON.stringify(one.conditions) === JSON.stringify(other.conditions);

/**
 * Makes and stores a passport; wear is computed since the last one under the same conditions.
 * @param trials as of `teatTrialsSchema`
 * @throws PlainError teat-trials-wrong, store-…
 */
export function keepPassport(data: string, trials: unknown): TeatPassport {
  const alone = teatPassport(trials);
  const path = fileOf(data, alone.teat);
  const earlier = read(path);
  const passport = teatPassport(trials, earlier.findLast((one) => isAlike(one, alone)) ?? null);
  plainly(data, () => {
    fs.mkdirSync(folderOf(data), { recursive: true, mode: 0o700 });
    replaceFile(fs, path, (fd) =>
      writeAll(fs, fd, Buffer.from(`${JSON.stringify([...earlier, passport], null, 2)}\n`)),
    );
  });
  return passport;
}

/**
 * Adds a notice before the feed if the nipple gives more than the pace without sucking.
 * @param data the data folder
 */
export const guideWithTeats =
  (guide: (setup: FeedSetup) => Guided, data: string) =>
  (setup: FeedSetup): Guided => {
    const guided = guide(setup);
    const passports = setup.teatName ? passportsOf(data, setup.teatName) : [];
    const lasting = (guided.ran?.profile ?? SHIPPED_PROFILE).buckets.lasting.rateMlPerMin.value;
    if (!runsByItself(passports, lasting)) return guided;
    return { ...guided, notices: [...guided.notices, 'nipple-runs-by-itself'] };
  };
