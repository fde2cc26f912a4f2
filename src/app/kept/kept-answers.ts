/** What the page about what is kept is answered, and who answers. Types only. */

export interface KeptAnswer {
  /** Where it is kept on this computer. */
  folder: string;
  /** Babies that something is kept of. */
  babies: { id: string | null; name: string; feeds: number; handFeeds: number }[];
}

export interface ForgottenAnswer {
  kept: KeptAnswer;
  feeds: number;
  handFeeds: number;
  /** Records of others in whose words the name still stands. */
  mentions: number;
  /** Captures that were put away on a disk that is not there now. */
  unreachable: string[];
}

/** All throw PlainErrors that the page shows. */
export interface KeptService {
  kept(): KeptAnswer;
  /** @param baby its id, or its name where it has none */
  forget(baby: string): ForgottenAnswer;
  /** All that is kept, as the lines of an export. */
  exportLines(): Iterable<string> | AsyncIterable<string | Uint8Array>;
}
