/** What the standard library gives without its type: keys of a record, a record of its keys, three of three. */

/** @returns the keys, as the record's type names them: for records written in the program, not for what was read */
export const keysOf = <K extends string>(record: Readonly<Record<K, unknown>>): K[] =>
  Object.keys(record) as K[];

/** @returns a record with what `of` makes of each key */
export const recordOf = <K extends string, T>(keys: readonly K[], of: (key: K) => T): Record<K, T> =>
  Object.fromEntries(keys.map((key) => [key, of(key)])) as Record<K, T>;

/** Three cells, three axes, three loads: what comes of each, in order. */
export const mapTriple = <A, B>(
  three: readonly [A, A, A],
  of: (one: A, index: 0 | 1 | 2) => B,
): [B, B, B] => [of(three[0], 0), of(three[1], 1), of(three[2], 2)];

/** Three entries of a row that has three. */
export const tripleOf = <T>([a, b, c]: readonly T[]): [T, T, T] => [a!, b!, c!];

/** JSON that this program has written itself, read back as what it was. What came from elsewhere is checked where it comes in. */
export const ownJson = <T>(text: string): T => JSON.parse(text);
