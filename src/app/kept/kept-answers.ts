/** Answers of the page about stored data, and the interface of its service. Types only. */

export interface KeptAnswer {
  /** Its folder on this computer. */
  folder: string;
  /** Babies with stored data. */
  babies: { id: string | null; name: string; feeds: number; handFeeds: number }[];
}

export interface ForgottenAnswer {
  kept: KeptAnswer;
  feeds: number;
  handFeeds: number;
  /** Number of other babies' records that mention the name in free text. */
  mentions: number;
  /** Archived captures on a disk that is not attached now. */
  unreachable: string[];
}

/** All throw PlainErrors that the page shows. */
export interface KeptService {
  kept(): KeptAnswer;
  /** @param baby its id, or its name where it has none */
  forget(baby: string): ForgottenAnswer;
  /** The whole store as the lines of an export. */
  exportLines(): Iterable<string> | AsyncIterable<string | Uint8Array>;
}
