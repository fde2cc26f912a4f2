/** A store for a board that stands while its store does not: what is to be written waits, in order, until it is taken. */
import { PlainError } from '../../base/errors.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';
import type { Ward } from '../../store/ward/ward-records.ts';

/** Lines that wait for a store that takes nothing. */
const MOST_OWED = 1000;

export class PatientStore {
  /** Why the store takes nothing; null while it does. */
  trouble: PlainError | null = null;
  readonly #store: FeedJournal;
  #owed: ((ward: Ward) => void)[] = [];

  constructor(store: FeedJournal) {
    this.#store = store;
  }

  /** In one transaction with all that was owed. @throws PlainError */
  ward<T>(act: (ward: Ward) => T): T {
    const owed = this.#owed;
    try {
      const answer = this.#store.ward((ward) => {
        for (const one of owed) one(ward);
        return act(ward);
      });
      this.#owed = [];
      this.trouble = null;
      return answer;
    } catch (error) {
      if (error instanceof PlainError) this.trouble = error;
      throw error;
    }
  }

  /** @returns null while the store cannot be asked */
  ask<T>(act: (ward: Ward) => T): T | null {
    try {
      return this.ward(act);
    } catch (error) {
      if (!(error instanceof PlainError)) throw error;
      return null;
    }
  }

  /** Now, or as soon as the store takes it. */
  write(act: (ward: Ward) => void): void {
    this.#owed = [...this.#owed, act].slice(-MOST_OWED);
    this.ask(() => {});
  }
}
