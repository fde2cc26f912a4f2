/** What the pages and commands of what happened are answered, and who answers. Types only. */
import type { BabyRef } from '../../base/babies.ts';
import type { FeedSetup, MilkKind } from '../../feed/record/feed.ts';
import type { AfterStep, ListedFeed } from '../../feed/record/written-by-hand.ts';
import type { PaperEnding } from '../../paper/paper-ending.ts';
import type { TeatBesideFeed } from '../../research/teat/beside-feed.ts';
import type { FeedCurve } from '../../review/facts/feed-curve.ts';
import type { FeedValues } from '../../review/facts/values.ts';
import type { ToldDay } from '../../review/telling/day-telling.ts';
import type { ToldFeed } from '../../review/telling/telling.ts';
import type { ToldWeek } from '../../review/telling/week-telling.ts';
import type { FamilyZone } from '../kept/family-zone.ts';

export type Query = Readonly<Record<string, unknown>>;

/** A baby as a page lists it: a day of birth tells namesakes apart. */
export type NamedBaby = BabyRef & { birthDay: string | null };

/** A page of the list, and what can be asked for. */
export interface FoundFeeds {
  feeds: ListedFeed[];
  /** The family's, by its IANA name: all days and times are its own. */
  zone: string;
  /** Hand this in as `before` for the next page; null on the last. */
  next: number | null;
  /** Babies, and names that stand beside kept feeds, the latest first. */
  names: { babies: NamedBaby[]; bottles: string[]; teats: string[] };
}

/** Feeds of which somebody has to say whose they are; until then they are in no list of a baby. */
export interface OpenFeeds {
  /** Hand it in as `feeds` with the answer. */
  key: string;
  name: string;
  count: number;
  /** They carry a number of another computer; else they say only the name. */
  isFromElsewhere: boolean;
  /** Whose they may be. */
  choices: NamedBaby[];
}

export interface FeedTelling {
  told: ToldFeed;
  zone: string;
  /** As it counts now: with what was corrected. */
  feed: {
    id: string;
    atMs: number;
    setup: FeedSetup;
    simulated: boolean;
    isEnded: boolean;
    isRefined: boolean;
  };
  /** The nipple's last measuring before it; null where it was never measured, or too little is known. */
  nipple: TeatBesideFeed | null;
  /** What was put beside it so far, for the form: amounts in mL. */
  beside: { offeredMl: number | null; leftMl: number | null; note: string | null };
}

/** The end of a feed. Volumes in mL, instants in ms since 1970 UTC. */
export interface AfterAnswer {
  id: string;
  /** The family's, IANA name. */
  zone: string;
  /** The clock that the times here are told by. */
  nowMs: number;
  startedAtMs: number;
  /** When baby last had the nipple. */
  finishedAtMs: number;
  isEnded: boolean;
  simulated: boolean;
  takenMl: number;
  /** Null: not known. */
  leftMl: number | null;
  /** True where the sleeve's last weighing stands in for an amount that nobody entered. */
  isWeighed: boolean;
  milkKind: MilkKind | null;
  /** Until when what is left over may be used, the first to pass before others; empty while the kind of milk is not known. */
  uses: {
    from: 'start' | 'end';
    untilMs: number;
    hours: number;
    /** Who published it; null where it is the place's own rule. */
    authority: 'CDC' | 'NHS' | null;
    /** Name of the place's own rule; null: as published. */
    rule: string | null;
  }[];
  done: Partial<Record<AfterStep, number>>;
  note: string | null;
  caregiver: string | null;
}

/** The way through days. `after` is null where the next would lie in the future. */
export interface DayWays {
  before: string;
  after: string | null;
  today: string;
  zone: string;
  /** Of whom, and of whom else there are feeds. */
  baby: NamedBaby;
  babies: NamedBaby[];
}
/** `picture`: an SVG document, as wide as was asked for. */
export type DayAnswer = DayWays & { told: ToldDay; hours: number; picture: string };
export type WeekAnswer = DayWays & { told: ToldWeek; picture: string };

/** Whoever starts the server brings it. All throw PlainErrors that the page shows; FieldErrors stand at the field. */
export interface ReviewService {
  find(query: Query): FoundFeeds;
  told(id: string, query: Query): FeedTelling;
  values(id: string): FeedValues;
  /** Of the feeds named in `feeds`, by id; those that are not there are left out. */
  curves(query: Query): Record<string, FeedCurve>;
  file(id: string, ending: PaperEnding, query: Query): Promise<string | Uint8Array>;
  /** @param body `{ correction, by }` */
  correct(id: string, body: unknown, query: Query): FeedTelling;
  after(id: string): AfterAnswer;
  compare(query: Query): string;
  day(query: Query): DayAnswer;
  week(query: Query): WeekAnswer;
  dayFile(query: Query): string;
  /** @param body the entry, with `day` and `clock` on the family's wall in place of an instant */
  writeFeed(body: unknown): { id: string; day: string };
  /** Takes a hand-written feed back; it stays in the book as taken back. */
  takeBackFeed(id: string): { id: string };
  zone(): FamilyZone;
  /** @param body `{ zone }`: an IANA name */
  setZone(body: unknown): FamilyZone;
  whose(): OpenFeeds[];
  /** @param body `{ feeds, baby }`: the key, and the id of a baby or null for another one @returns what is open then */
  sayWhose(body: unknown): OpenFeeds[];
}

/** As the page is served: what takes long may come later. */
export type ServedReview = Omit<ReviewService, 'compare' | 'dayFile'> & {
  compare(query: Query): string | Promise<string>;
  dayFile(query: Query): string | Promise<string>;
};
