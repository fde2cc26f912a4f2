/** Passports of the family's own nipples, one file a nipple, newest last; and what they say before a feed. */
import { createHash } from 'node:crypto';
import * as fs from 'node:fs';
import { join } from 'node:path';
import { nameKey } from '../../base/babies.ts';
import type { FeedSetup } from '../../feed/record/feed.ts';
import type { Guided } from '../../feed/session/guided.ts';
import { SHIPPED_PROFILE } from '../../pacing/profile/shipped-profile.ts';
import { type TeatPassport, teatPassport, volumesShown } from '../../research/teat/passport.ts';
import { replaceFile, writeAll } from '../../store/disk.ts';
import { plainly } from '../../store/faults.ts';

export type { TeatPassport };
export { volumesShown };

const folderOf = (data: string): string => join(data, 'nipples');
const fileOf = (data: string, teat: string): string =>
  join(folderOf(data), `${createHash('sha256').update(nameKey(teat)).digest('hex').slice(0, 16)}.json`);

const read = (path: string): TeatPassport[] =>
  fs.existsSync(path) ? (JSON.parse(fs.readFileSync(path, 'utf8')) as TeatPassport[]) : [];

/** @returns all passports of a nipple, newest last */
export const passportsOf = (data: string, teat: string): TeatPassport[] => read(fileOf(data, teat));

/** @returns the newest passport of each nipple, by its name */
export const newestPassports = (data: string): TeatPassport[] =>
  (fs.existsSync(folderOf(data)) ? fs.readdirSync(folderOf(data)) : [])
    .filter((name) => name.endsWith('.json'))
    .flatMap((name) => read(join(folderOf(data), name)).at(-1) ?? [])
    .sort((a, b) => a.teat.localeCompare(b.teat));

const isAlike = (one: TeatPassport, other: TeatPassport): boolean =>
  JSON.stringify(one.conditions) === JSON.stringify(other.conditions);

/**
 * Makes a passport and keeps it; wear is told since the last one under the same conditions.
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
 * With a nipple that gives more by itself than the pace lets through, milk comes whether baby sucks or not: said before the feed.
 * @param data folder of what is kept
 */
export const guideWithNipples =
  (guide: (setup: FeedSetup) => Guided, data: string) =>
  (setup: FeedSetup): Guided => {
    const guided = guide(setup);
    const free = setup.teatName
      ? passportsOf(data, setup.teatName).findLast(({ conditions }) => conditions.suction === 'free')
      : undefined;
    const lasting = (guided.ran?.profile ?? SHIPPED_PROFILE).buckets.lasting.rateMlPerMin.value;
    if (!free || free.lowMlPerMin <= lasting) return guided;
    return { ...guided, notices: [...guided.notices, 'nipple-runs-by-itself'] };
  };
