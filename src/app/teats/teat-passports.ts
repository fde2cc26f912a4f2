/** Passports (measurements) of the family's nipples, one file a nipple, newest last; and notices from them before a feed. */
import { createHash } from 'node:crypto';
import { nameKey } from '../../base/babies.ts';
import type { FeedSetup } from '../../feed/record/feed.ts';
import type { Guided } from '../../feed/recording/guided.ts';
import { SHIPPED_PROFILE } from '../../pacing/profile/shipped-profile.ts';
import { teatPassport, volumesShown } from '../../research/teat/passport.ts';
import type { TeatPassport } from '../../research/teat/passport-format.ts';
import type { SideFiles } from '../../store/side-files.ts';

export type { TeatPassport };
export { volumesShown };

const nipplesAmong = (files: SideFiles): SideFiles => files.within('nipples');
const fileOf = (teat: string): string =>
  `${createHash('sha256').update(nameKey(teat)).digest('hex').slice(0, 16)}.json`;

const read = (files: SideFiles, name: string): TeatPassport[] =>
  JSON.parse(nipplesAmong(files).read(name)?.toString() ?? '[]');

/** @returns all passports of a nipple, newest last */
export const passportsOf = (files: SideFiles, teat: string): TeatPassport[] => read(files, fileOf(teat));

/** All passports of each nipple, newest last. */
const allPassports = (files: SideFiles): TeatPassport[][] =>
  nipplesAmong(files)
    .names()
    .filter((name) => name.endsWith('.json'))
    .map((name) => read(files, name));

/** @returns the newest passport of each nipple, by its name */
export const newestPassports = (files: SideFiles): TeatPassport[] =>
  allPassports(files)
    .flatMap((passports) => passports.at(-1) ?? [])
    .sort((a, b) => a.teat.localeCompare(b.teat));

/** By its last passport without suction it certainly gives more than the lasting pace. */
function runsByItself(passports: readonly TeatPassport[], lastingMlPerMin: number): boolean {
  const free = passports.findLast(({ conditions }) => conditions.suction === 'free');
  return free !== undefined && free.lowMlPerMin > lastingMlPerMin;
}

/** Names of nipples that should not be packed for a day away, where no sleeve warns the caregiver. */
export const runningTeats = (files: SideFiles): string[] =>
  allPassports(files)
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
export function keepPassport(files: SideFiles, trials: unknown): TeatPassport {
  const alone = teatPassport(trials);
  const name = fileOf(alone.teat);
  return files.together(() => {
    const earlier = read(files, name);
    const passport = teatPassport(trials, earlier.findLast((one) => isAlike(one, alone)) ?? null);
    nipplesAmong(files).replace(name, `${JSON.stringify([...earlier, passport], null, 2)}\n`);
    return passport;
  });
}

/**
 * Adds a notice before the feed if the nipple gives more than the pace without sucking.
 */
export const guideWithTeats =
  (guide: (setup: FeedSetup) => Guided, files: SideFiles) =>
  (setup: FeedSetup): Guided => {
    const guided = guide(setup);
    const passports = setup.teatName ? passportsOf(files, setup.teatName) : [];
    const lasting = (guided.ran?.profile ?? SHIPPED_PROFILE).buckets.lasting.rateMlPerMin.value;
    if (!runsByItself(passports, lasting)) return guided;
    return { ...guided, notices: [...guided.notices, 'nipple-runs-by-itself'] };
  };
