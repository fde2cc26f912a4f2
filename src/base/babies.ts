/** Which baby something belongs to, and the one list of babies. Pure. */
import { PlainError } from './errors.ts';

/** A reference to a baby. Without an id the baby was only ever typed in as a name; without id and name the baby is not known. */
export interface BabyRef {
  id: string | null;
  name: string | null;
}

/** What a feed says about which baby it belongs to. */
export interface FeedOwner {
  babyId?: string | null | undefined;
  babyName: string | null;
}

/** A baby that has feeds, or a record of its own. */
export interface KnownBaby extends BabyRef {
  /** ISO date, YYYY-MM-DD; null: not known. */
  birthDay: string | null;
  /** True for a baby that has a record of its own: its name, birth date and answers were entered. */
  isKept: boolean;
  /** Its present name, and the names written in its feeds. */
  names: readonly string[];
  /** Start of its latest feed, milliseconds since 1970 UTC; null before the first. */
  lastFedAtMs: number | null;
  /** Number of feeds, by the sleeve and written in by hand; those marked "not a feed" and those taken back are counted too. */
  feeds: number;
  handFeeds: number;
  /** Ids of other babies that may be the same baby; a person has to decide. Empty: nothing to decide. */
  mayBe: readonly string[];
}

/** Feeds that name the same owner. */
export interface OwnedFeeds {
  id: string | null;
  name: string | null;
  birthDay: string | null;
  lastFedAtMs: number | null;
  feeds: number;
  handFeeds: number;
}

/** The part of a baby's record that says who the baby is. */
export interface BabyRecord {
  id: string;
  name: string;
  birthDate: string | null;
}

/** A name in the form in which names (of babies, bottles, nipples) are compared. */
export const nameKey = (name: string | null): string => (name ?? '').normalize('NFC').trim().toLowerCase();

/** The only comparison of names: upper case and blanks at the ends do not count; two missing names are not the same. */
export const sameName = (one: string | null, other: string | null): boolean =>
  nameKey(one) === nameKey(other);

const isCalled = ({ names }: KnownBaby, name: string | null): boolean =>
  names.some((one) => sameName(one, name));

/** Whether a feed is of this baby. */
export function isOf({ babyId, babyName }: FeedOwner, { id, name }: BabyRef): boolean {
  if (id === null) return !babyId && sameName(babyName, name);
  return babyId?.toLowerCase() === id;
}

/** The key of a baby in a page address: its id, or its name where it has no id. */
export const keyOf = ({ id, name }: BabyRef): string => id ?? name ?? '';

/**
 * Every baby once, in the order of `owned` and then of `kept`. The name in a record is preferred to the names in feeds; of those the first is taken.
 * @param owned  latest first
 * @param apart  ids without a record that a person has declared to be different from all other babies
 */
export function babiesFrom(
  kept: readonly BabyRecord[],
  owned: readonly OwnedFeeds[],
  apart: readonly string[],
): KnownBaby[] {
  const babies = new Map<string, KnownBaby>();
  for (const feeds of owned) {
    const id = feeds.id?.toLowerCase() ?? null;
    const key = id === null ? `name ${nameKey(feeds.name)}` : `id ${id}`;
    const record = kept.find((one) => one.id === id);
    const known = babies.get(key);
    const name = record?.name ?? known?.name ?? feeds.name;
    babies.set(key, {
      id,
      name,
      birthDay: record?.birthDate ?? known?.birthDay ?? feeds.birthDay,
      isKept: record !== undefined,
      names: distinct([name, ...(known?.names ?? []), feeds.name]),
      lastFedAtMs: latest(known?.lastFedAtMs ?? null, feeds.lastFedAtMs),
      feeds: (known?.feeds ?? 0) + feeds.feeds,
      handFeeds: (known?.handFeeds ?? 0) + feeds.handFeeds,
      mayBe: [],
    });
  }
  for (const { id, name, birthDate } of kept) {
    if (babies.has(`id ${id}`)) continue;
    const nothing = { lastFedAtMs: null, feeds: 0, handFeeds: 0, mayBe: [] };
    babies.set(`id ${id}`, { id, name, birthDay: birthDate, isKept: true, names: [name], ...nothing });
  }
  const all = [...babies.values()];
  return all.map((baby) => ({ ...baby, mayBe: apart.includes(baby.id ?? '') ? [] : mayBe(baby, all) }));
}

const distinct = (names: readonly (string | null)[]): string[] => [
  ...new Set(names.filter((name) => name !== null)),
];

const latest = (one: number | null, other: number | null): number | null =>
  one === null || other === null ? (one ?? other) : Math.max(one, other);

/** A name alone may mean any baby that has or had it; an id from an import may mean any baby entered here under the same name. */
function mayBe(baby: KnownBaby, all: readonly KnownBaby[]): string[] {
  if (baby.isKept || baby.name === null || baby.feeds + baby.handFeeds === 0) return [];
  return all
    .filter((one) => one !== baby && one.id !== null && (baby.id === null || one.isKept))
    .filter((one) => isCalled(one, baby.name))
    .map(({ id }) => id!);
}

/** Feeds whose baby is still undecided are left out of every list of babies. */
export const isOpen = ({ mayBe: babies }: KnownBaby): boolean => babies.length > 0;

/**
 * The owner of a feed that gives a name but no id. It is certain only if one baby alone has or had the name, was entered under it, and has no other birth date.
 * @returns null where somebody has to be asked
 */
export function certainOwner(
  babies: readonly KnownBaby[],
  { name, birthDay }: { name: string | null; birthDay: string | null },
): string | null {
  const able = babies.filter(
    (one) =>
      one.id !== null &&
      isCalled(one, name) &&
      (one.birthDay === null || birthDay === null || one.birthDay === birthDay),
  );
  const [only] = able;
  return able.length === 1 && only!.isKept && sameName(only!.name, name) ? only!.id : null;
}

/** @returns the babies that a text may mean: by id, else by present name, else by former name */
export function babiesCalled(babies: readonly KnownBaby[], who: string): KnownBaby[] {
  const ways: ((baby: KnownBaby) => boolean)[] = [
    ({ id }) => id !== null && sameName(id, who),
    ({ name }) => name !== null && sameName(name, who),
    (baby) => isCalled(baby, who),
  ];
  return ways.map((isMeant) => babies.filter(isMeant)).find((found) => found.length > 0) ?? [];
}

/**
 * The baby that a typed text, or a key sent by a page, means.
 * @returns null when nothing is known of such a baby
 * @throws PlainError baby-which when it may mean several babies
 */
export function babyCalled(babies: readonly KnownBaby[], who: string): KnownBaby | null {
  const found = babiesCalled(babies, who);
  if (found.length < 2) return found[0] ?? null;
  throw new PlainError(
    'baby-which',
    `${found.length} babies are called ${who.trim()}.`,
    `Name one by its number: ${found.map(numbered).join('; ')}.`,
  );
}

/** @returns "20260105-…, born 2025-11-02" */
export const numbered = ({ id, name, birthDay }: KnownBaby): string =>
  `${id ?? `${name}, who has none`}${birthDay === null ? '' : `, born ${birthDay}`}`;

/** @returns the name, with the day of birth or the number beside it where another baby has the same name */
export function toldApart(
  baby: BabyRef & { birthDay?: string | null },
  all: readonly (BabyRef & { birthDay?: string | null })[],
): string {
  const namesakes = all.filter((one) => keyOf(one) !== keyOf(baby) && sameName(one.name, baby.name));
  if (namesakes.length === 0) return baby.name ?? '';
  const isOwnDay = baby.birthDay != null && namesakes.every(({ birthDay }) => birthDay !== baby.birthDay);
  return `${baby.name ?? ''} (${isOwnDay ? baby.birthDay : (baby.id ?? '–')})`;
}
