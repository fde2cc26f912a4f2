/** Which baby is meant when one is to be deleted, under which ids and names it stands, and how much is kept of it. */
import { babiesCalled, type KnownBaby, numbered, sameName } from '../../base/babies.ts';
import { PlainError } from '../../base/errors.ts';
import { countIn } from '../database/database.ts';
import type { FeedDatabase } from '../database/feed-database.ts';
import { Whose } from '../database/whose.ts';

/** Identifies the baby: all data with one of these. */
export interface Baby {
  ids: string[];
  names: string[];
  /** Names that may also be another baby's: data with such a name only are not touched. */
  doubtful: string[];
}

/** Id or name as typed; of several the first known one counts, since an inner store may know only the name. */
export type Asked = string | readonly string[];

export const listed = (values: readonly string[]): string => JSON.stringify(values);
export const IN_LIST = '(SELECT value COLLATE NOCASE FROM json_each(?))';
export const EITHER = `(baby_id IN ${IN_LIST} OR baby_name IN ${IN_LIST})`;

/** The amount of a baby's data, and its identification. */
export interface CountedBaby {
  id: string | null;
  name: string;
  feeds: number;
  handFeeds: number;
}

/** Counts what would be deleted of a baby. @throws PlainError forget-nobody, forget-which */
export function countOf(database: FeedDatabase, who: Asked): CountedBaby {
  const whose = new Whose(database);
  return countedBaby(database, whose, knownAs(whose, who));
}

/** All babies with data, by name, each with the amount that would be deleted. */
export function babiesCounted(database: FeedDatabase): CountedBaby[] {
  const whose = new Whose(database);
  return known(whose)
    .map((baby) => countedBaby(database, whose, baby))
    .sort((one, other) => one.name.localeCompare(other.name));
}

function countedBaby(database: FeedDatabase, whose: Whose, baby: KnownBaby): CountedBaby {
  const { ids, names } = allOf(whose, baby);
  const count = (table: string): number =>
    countIn(database, `${table} WHERE ${EITHER}`, listed(ids), listed(names));
  return { id: baby.id, name: baby.name ?? baby.id!, feeds: count('feed'), handFeeds: count('hand_feed') };
}

/** Babies that can be identified: by an id, or by a unique name. */
const known = (whose: Whose): KnownBaby[] =>
  whose.babies().filter(({ id, name, mayBe }) => id !== null || (name !== null && mayBe.length === 0));

export function knownAs(whose: Whose, asked: Asked): KnownBaby {
  const all = known(whose);
  const texts = typeof asked === 'string' ? [asked] : asked;
  const found = texts.map((who) => babiesCalled(all, who)).find(({ length }) => length > 0) ?? [];
  if (found.length === 1) return found[0]!;
  if (found.length === 0)
    throw new PlainError(
      'forget-nobody',
      `Nothing is kept of a baby called ${texts[0]}. Nothing was deleted.`,
      `Kept are feeds of: ${all.map(({ name, id }) => name ?? id).join(', ') || 'no baby with a name'}.`,
    );
  throw new PlainError(
    'forget-which',
    `${found.length} babies are called ${found[0]!.name}. Nothing was deleted.`,
    `Name one by its number: ${found.map(numbered).join('; ')}.`,
  );
}

/** Feeds with only its name belong to it, unless another baby has or had that name, or the birth dates differ. */
export function allOf(whose: Whose, baby: KnownBaby): Baby {
  if (baby.id === null) return { ids: [], names: [...baby.names], doubtful: [] };
  const others = whose.babies().filter(({ id }) => id !== null && id !== baby.id);
  const typed = whose.owned().filter(({ id }) => id === null);
  const isDoubtful = (name: string): boolean =>
    others.some(({ names }) => names.some((one) => sameName(one, name))) ||
    typed.some(
      (one) =>
        sameName(one.name, name) &&
        one.birthDay !== null &&
        baby.birthDay !== null &&
        one.birthDay !== baby.birthDay,
    );
  // With the spelling of each feed, since SQLite compares case only for letters without accents.
  const written = [
    ...baby.names,
    ...typed.flatMap(({ name }) =>
      name !== null && baby.names.some((one) => sameName(one, name)) ? [name] : [],
    ),
  ];
  return {
    ids: [baby.id],
    names: written.filter((name) => !isDoubtful(name)),
    doubtful: written.filter(isDoubtful),
  };
}
