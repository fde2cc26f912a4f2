/** Answers of the pages and commands for packing and milk, and the interface of their service. Types only. */
import type { PaperEnding } from '../../paper/paper-ending.ts';
import type { PackingAnswer } from '../../planning/bag/packing.ts';
import type { PackingSettings } from '../../planning/bag/packing-settings.ts';
import type { ContainerState } from '../../planning/milk/ledger.ts';
import type { LedgerLine, Proposal, StoredLedger } from '../../planning/milk/stored-ledger.ts';
import type { NamedBaby, Query } from '../review/review-answers.ts';

/** Initial data of the packing page. */
export interface PackingStart {
  /** Babies that are known, the latest fed first; a name or a birth date may be missing. */
  babies: NamedBaby[];
  settings: PackingSettings;
  /** The family's time zone (IANA name), used for all days and times. */
  zone: string;
  /** Today and tomorrow there, YYYY-MM-DD. */
  today: string;
  tomorrow: string;
  /** Measured nipples that give milk faster than the pace by themselves: better not sent along. */
  runningTeats: string[];
  /** Milk that can be planned, mL: not held back, time not passed; `containers` counts all. Null if milk was never entered. */
  onHand: { fridgeMl: number; freezerMl: number; containers: number } | null;
}

export interface ListedContainer extends ContainerState {
  /** It was offered at a feed, so what is left belongs to that feed. */
  offered: boolean;
}

export interface MilkAnswer {
  nowMs: number;
  /** The family's, IANA name. */
  zone: string;
  /** In order of use. */
  containers: ListedContainer[];
  /** Latest entries, newest first. */
  lines: LedgerLine[];
  leftOut: StoredLedger['leftOut'];
  totals: { gotMl: number; fedMl: number; discardedMl: number };
  proposals: Proposal[];
  /** Plans whose time away has begun, to ask how it went. */
  evenings: Evening[];
  /** An unused label. */
  nextLabel: string;
}

export type SheetName = 'feeding-plan' | 'day-sheet';

/** Questions in the evening about one plan. */
export interface Evening {
  plan: string;
  /** Null if no baby has a name. */
  babyName: string | null;
  fromMs: number;
  /** Bottles whose outcome is not entered. */
  bottles: { id: string; ml: number }[];
  /** Null if not entered. */
  short: boolean | null;
}

/** All throw PlainErrors that the page shows; FieldErrors are shown at the field. */
export interface PackingService {
  start(): PackingStart;
  /** @param ask a PackingAsk, with `baby` beside it: its id, its name where it has none, or null */
  plan(ask: unknown): PackingAnswer;
  keepSettings(settings: unknown): PackingSettings;
  milk(): MilkAnswer;
  /** @param data `{ entries: [...] }`, `{ confirm: { feed, container } }`, `{ taken: ask }` for a plan, or `{ packed: ask }` once its bag is filled */
  enterMilk(data: unknown): MilkAnswer;
  sheet(name: SheetName, ending: PaperEnding, query: Query): Promise<string | Uint8Array>;
}
