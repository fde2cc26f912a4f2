import { babyCalled, isOpen, type KnownBaby, keyOf, sameName } from '../../base/babies.ts';
import { PlainError } from '../../base/errors.ts';
import type { Baby } from '../../feed/record/baby.ts';
import type { FeedSummary, KeptFeed } from '../../feed/record/feed.ts';
import type {
  CorrectionContent,
  FeedsBetween,
  HandFeed,
  HandFeedEntry,
  KeptMilkEvent,
  ListedFeed,
  MilkEvent,
} from '../../feed/record/written-by-hand.ts';
import { inWard, type Ward } from '../ward/ward-records.ts';
import { Babies } from './babies.ts';
import { Corrections, correctedBy } from './corrections.ts';
import { inTransaction } from './database.ts';
import { newFeedId } from './feed-id.ts';
import { FeedList, type ListChoice } from './feed-list.ts';
import { FeedRecords } from './feed-records.ts';
import { type HandFeedChoice, type HandFeedCorrectionContent, HandFeeds } from './hand-feeds.ts';
import { MilkEvents } from './milk-events.ts';
import type { RenewedDatabase } from './renewed.ts';
import { SettingsJournal } from './settings-journal.ts';
import { noneOfThem, nothingOpen, Whose } from './whose.ts';

/**
 * What any process may do with stored feeds, also beside the one that records: find and read them, add corrections, enter
 * feeds by hand, use the milk ledger and the settings. Types: src/feed/record/feed.ts and src/feed/record/written-by-hand.ts. All calls are synchronous and
 * durable on return; disk errors are PlainErrors.
 */
export class FeedJournal extends SettingsJournal {
  protected readonly records: FeedRecords;
  readonly #list: FeedList;
  readonly #corrections: Corrections;
  readonly #handFeeds: HandFeeds;
  readonly #milk: MilkEvents;
  readonly #babies: Babies;
  readonly #whose: Whose;

  constructor(
    folder: string,
    database: RenewedDatabase,
    protected readonly nowMs: () => number,
  ) {
    super(folder, database);
    this.records = new FeedRecords(database);
    this.#list = new FeedList(database);
    this.#corrections = new Corrections(database);
    this.#handFeeds = new HandFeeds(database);
    this.#milk = new MilkEvents(database);
    this.#babies = new Babies(database);
    this.#whose = new Whose(database);
  }

  /** Stored feeds, newest first; those marked "not a feed" only if asked for. */
  list(choice: ListChoice = {}): ListedFeed[] {
    return this.safely(() => this.#list.list(choice));
  }

  /** Everything from `fromMs` up to before `toMs`, oldest first: for example a day in the caller's time zone. */
  between(choice: HandFeedChoice & { fromMs: number; toMs: number }): FeedsBetween {
    const { withdrawn: _withdrawn, ...feedChoice } = choice;
    return this.safely(() => ({
      feeds: this.#list.list(feedChoice).reverse(),
      handFeeds: this.#handFeeds.list(choice),
    }));
  }

  /** @returns null when there is no such feed */
  get(feedId: string): KeptFeed | null {
    return this.safely(() => {
      const feed = this.records.get(feedId);
      if (!feed) return null;
      const corrections = this.#corrections.of(feedId);
      const corrected = correctedBy(feed, corrections);
      return corrected ? { ...feed, corrections, corrected } : feed;
    });
  }

  /**
   * Adds a correction of a feed, signed by `by`; the measured feed does not change.
   * @throws FieldError entry-invalid, PlainError store-no-feed
   */
  correct(feedId: string, correction: CorrectionContent, by: string | null = null): void {
    const feed = this.mustKnow(feedId);
    this.safely(() => this.#corrections.add(feed, correction, by, this.nowMs()));
  }

  /** Stores a feed written in by hand. @throws FieldError entry-invalid */
  addHandFeed(entry: HandFeedEntry): HandFeed {
    const id = newFeedId(this.nowMs(), Math.random);
    return this.safely(() => {
      this.#handFeeds.add(id, entry, this.nowMs());
      return this.#handFeeds.get(id)!;
    });
  }

  /** As `correct`, for a feed written in by hand; `withdrawn`: the feed is taken back. */
  correctHandFeed(id: string, correction: HandFeedCorrectionContent, by: string | null = null): HandFeed {
    const feed = this.getHandFeed(id);
    if (!feed) throw this.#unknownFeed(id);
    return this.safely(() => {
      this.#handFeeds.correct(feed, correction, by, this.nowMs());
      return this.#handFeeds.get(id)!;
    });
  }

  getHandFeed(id: string): HandFeed | null {
    return this.safely(() => this.#handFeeds.get(id));
  }

  /** Oldest first; those taken back only if asked for. */
  listHandFeeds(choice: HandFeedChoice = {}): HandFeed[] {
    return this.safely(() => this.#handFeeds.list(choice));
  }

  /** Adds to the milk ledger: all of `events`, or none. @throws FieldError entry-invalid */
  appendMilkEvents(events: readonly MilkEvent[]): void {
    this.safely(() => this.#milk.append(events, this.nowMs()));
  }

  /** In the order in which they were written. */
  readMilkEvents(sinceMs: number = Number.MIN_SAFE_INTEGER): KeptMilkEvent[] {
    return this.safely(() => this.#milk.since(sinceMs));
  }

  /** The ward's records and audit trail, in one transaction: everything that `act` writes, or nothing. */
  ward<T>(act: (ward: Ward) => T): T {
    return this.safely(() => inWard(this.database, act));
  }

  /** Babies' records, in the order of entering. */
  listBabies(): Baby[] {
    return this.safely(() => this.#babies.list());
  }

  getBaby(id: string): Baby | null {
    return this.safely(() => this.#babies.get(id));
  }

  /** Feeds with only its name are bound to its id if they can belong to no other baby. @throws FieldError baby-invalid, baby-name-taken */
  addBaby(entry: unknown): Baby {
    return this.safely(() =>
      inTransaction(this.database, () => {
        const baby = this.#babies.add(entry, this.nowMs());
        this.#whose.bindCertain(this.nowMs(), { name: baby.name });
        return baby;
      }),
    );
  }

  /** @throws FieldError as `addBaby`, PlainError store-no-baby */
  changeBaby(id: string, entry: unknown): Baby {
    return this.safely(() => this.#babies.change(this.#mustKnowBaby(id), entry, this.nowMs()));
  }

  /** Resets the quiet level: only later feeds count for it. @throws PlainError store-no-baby */
  undoQuiet(id: string): Baby {
    return this.safely(() => {
      const baby = { ...this.#mustKnowBaby(id), quietSinceMs: this.nowMs() };
      this.#babies.write(baby);
      return baby;
    });
  }

  /**
   * Every baby with a record or with feeds, once: the baby of the next feed first, then by latest feed. Babies that still have to be decided
   * about (`isOpen`) are included.
   */
  allBabies(): KnownBaby[] {
    return this.safely(() => {
      const { babyId = null, babyName, babyBirthDate } = this.readSetup();
      const isNobody = babyId === null && babyName === null;
      const nothing = { lastFedAtMs: null, feeds: 0, handFeeds: 0 };
      return this.#whose.babies(
        isNobody ? undefined : { id: babyId, name: babyName, birthDay: babyBirthDate, ...nothing },
      );
    });
  }

  /**
   * Assigns feeds of which only a name, or an id from an import, is known.
   * @param feedsOf  the name or id in these feeds
   * @param baby  name or id of their baby; null: none of the known babies
   * @throws PlainError whose-nothing when these feeds are not open, whose-nobody, baby-which
   */
  sayWhose(feedsOf: string, baby: string | null): void {
    this.safely(() =>
      inTransaction(this.database, () => {
        const all = this.allBabies();
        const of = all.find((one) => isOpen(one) && sameName(keyOf(one), feedsOf));
        if (!of) throw nothingOpen(feedsOf);
        const known =
          baby === null
            ? null
            : babyCalled(
                all.filter((one) => of.mayBe.includes(keyOf(one))),
                baby,
              );
        if (baby !== null && !known) throw noneOfThem(baby);
        const id = known?.id ?? of.id ?? newFeedId(this.nowMs(), Math.random);
        if (id !== of.id) this.#whose.bindAll(of, id, this.nowMs());
        if (!known) this.#whose.keepApart([...this.#whose.apart(), id]);
      }),
    );
  }

  #mustKnowBaby(id: string): Baby {
    const baby = this.#babies.get(id);
    if (baby) return baby;
    throw new PlainError('store-no-baby', 'This baby is not kept here.', 'Choose one from the list.');
  }

  protected mustKnow(feedId: string): FeedSummary {
    const feed = this.safely(() => this.records.summary(feedId));
    if (feed) return feed;
    throw this.#unknownFeed(feedId);
  }

  #unknownFeed(id: string): PlainError {
    return new PlainError(
      'store-no-feed',
      `There is no feed ${id} in ${this.folder}.`,
      'List the feeds with: ebbline feeds',
    );
  }
}
