/** Answers of the pages and commands about past feeds, and the interface of their service. Types only. */
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
import type { SensorFault } from '../../sensing/index.ts';
import type { FamilyZone } from '../kept/family-zone.ts';

export type Query = Readonly<Record<string, unknown>>;

/** A baby as a page lists it: the birth date distinguishes babies of the same name. */
export type NamedBaby = BabyRef & { birthDay: string | null };

/** A page of the list of feeds. */
export interface FoundFeeds {
  feeds: ListedFeed[];
  /** The family's, by its IANA name: used for all days and times. */
  zone: string;
  /** Send it as `before` to get the next page; null on the last page. */
  next: number | null;
  /** Babies, and names used in stored feeds, latest first. */
  names: { babies: NamedBaby[]; bottles: string[]; teats: string[] };
}

/** Feeds whose baby a person has to name; until then no baby's list shows them. */
export interface OpenFeeds {
  /** Send it as `feeds` with the answer. */
  key: string;
  name: string;
  count: number;
  /** True if they have an id of another computer; false if they have only a name. */
  isFromElsewhere: boolean;
  /** Babies that they may belong to. */
  choices: NamedBaby[];
}

export interface FeedTelling {
  told: ToldFeed;
  zone: string;
  /** With its corrections applied. */
  feed: {
    id: string;
    atMs: number;
    setup: FeedSetup;
    simulated: boolean;
    isEnded: boolean;
    isRefined: boolean;
  };
  /** The nipple's latest measurement before the feed; null if it was never measured, or too little is known. */
  nipple: TeatBesideFeed | null;
  /** Present values of the correction form: amounts in mL. */
  beside: { offeredMl: number | null; leftMl: number | null; note: string | null };
}

/** The end of a feed. Volumes in mL, instants in ms since 1970 UTC. */
export interface AfterAnswer {
  id: string;
  /** The family's, IANA name. */
  zone: string;
  /** The server's time, which the times here refer to. */
  nowMs: number;
  startedAtMs: number;
  /** When the baby last had the nipple. */
  finishedAtMs: number;
  isEnded: boolean;
  simulated: boolean;
  takenMl: number;
  /** Null: not known. */
  leftMl: number | null;
  /** True where the sleeve's last weighing is used because no amount was entered. */
  isWeighed: boolean;
  milkKind: MilkKind | null;
  /** Until when left-over milk may be used, earliest first; empty if the kind of milk is not known. */
  uses: {
    from: 'start' | 'end';
    untilMs: number;
    hours: number;
    /** The publisher; null for a rule of the place. */
    authority: 'CDC' | 'NHS' | null;
    /** Name of the place's own rule; null: as published. */
    rule: string | null;
  }[];
  done: Partial<Record<AfterStep, number>>;
  note: string | null;
  caregiver: string | null;
  /** What of the sleeve did not fit in it, the first one found first. */
  sensorFaults: SensorFault[];
}

/** Neighboring days. `after` is null if it would be in the future. */
export interface DayWays {
  before: string;
  after: string | null;
  today: string;
  zone: string;
  /** The baby, and other babies with feeds. */
  baby: NamedBaby;
  babies: NamedBaby[];
}
/** `picture`: an SVG document, of the requested width. */
export type DayAnswer = DayWays & { told: ToldDay; hours: number; picture: string };
export type WeekAnswer = DayWays & { told: ToldWeek; picture: string };

/** Passed to the server at its start. All throw PlainErrors that the page shows; FieldErrors are shown at the field. */
export interface ReviewService {
  find(query: Query): FoundFeeds;
  told(id: string, query: Query): FeedTelling;
  values(id: string): FeedValues;
  /** Of the feeds named in `feeds`, by id; missing feeds are left out. */
  curves(query: Query): Record<string, FeedCurve>;
  file(id: string, ending: PaperEnding, query: Query): Promise<string | Uint8Array>;
  /** @param body `{ correction, by }` */
  correct(id: string, body: unknown, query: Query): FeedTelling;
  after(id: string): AfterAnswer;
  compare(query: Query): string;
  day(query: Query): DayAnswer;
  week(query: Query): WeekAnswer;
  dayFile(query: Query): string;
  /** @param body the entry, with `day` and `clock` in the family's zone instead of an instant */
  writeFeed(body: unknown): { id: string; day: string };
  /** Marks a hand-written feed as taken back; it stays stored. */
  takeBackFeed(id: string): { id: string };
  zone(): FamilyZone;
  /** @param body `{ zone }`: an IANA name */
  setZone(body: unknown): FamilyZone;
  whose(): OpenFeeds[];
  /** @param body `{ feeds, baby }`: the key, and the id of a baby or null for another one @returns the feeds that are still open */
  sayWhose(body: unknown): OpenFeeds[];
}

/** The service as the page uses it: slow answers come as promises. */
export type ServedReview = Omit<ReviewService, 'compare' | 'dayFile'> & {
  compare(query: Query): string | Promise<string>;
  dayFile(query: Query): string | Promise<string>;
};
