/** Typed versions of what the standard library leaves untyped: keys of a record, a record from its keys, three values from three. */

/** @returns the keys with the record's own key type; only for records written in the program, not for parsed data */
export const keysOf = <K extends string>(record: Readonly<Record<K, unknown>>): K[] =>
  Object.keys(record) as K[];

/** @returns a record with the value `of(key)` for each key */
export const recordOf = <K extends string, T>(keys: readonly K[], of: (key: K) => T): Record<K, T> =>
  Object.fromEntries(keys.map((key) => [key, of(key)])) as Record<K, T>;

/** Maps three values (cells, axes or loads) to three values and keeps the order and the tuple type. */
export const mapTriple = <A, B>(
  three: readonly [A, A, A],
  of: (one: A, index: 0 | 1 | 2) => B,
): [B, B, B] => [of(three[0], 0), of(three[1], 1), of(three[2], 2)];

/** Three entries of a row that has three. */
export const tripleOf = <T>([a, b, c]: readonly T[]): [T, T, T] => [a!, b!, c!];

/** JSON that this program has written itself, read back as what it was. What came from elsewhere is checked where it comes in. */
export const ownJson = <T>(text: string): T => JSON.parse(text);
