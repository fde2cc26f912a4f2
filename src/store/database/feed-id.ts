/** No vowels and no similar characters, so that an id can be read aloud and never spells a word. */
const ALPHABET = '23456789bcdfghjkmnpqrstvwxz';
const SUFFIX_LENGTH = 4;

/**
 * A new feed's id: UTC start time and a random tail, "20260105-090000-k7q2". Sorts by time, safe as a file name everywhere.
 * @param startedAtMs wall time, milliseconds since 1970 UTC
 * @param random gives numbers in [0, 1), such as Math.random
 */
export function newFeedId(startedAtMs: number, random: () => number): string {
  const [date, time] = new Date(startedAtMs).toISOString().slice(0, 19).split('T');
  const tail = Array.from({ length: SUFFIX_LENGTH }, () => ALPHABET[Math.floor(random() * ALPHABET.length)]);
  return `${date!.replaceAll('-', '')}-${time!.replaceAll(':', '')}-${tail.join('')}`;
}

/** True when `id` is safe as a file name; checked before making a path from an id. */
export const isSafeFeedId = (id: string): boolean => /^[a-z0-9][a-z0-9-]{0,63}$/.test(id);
