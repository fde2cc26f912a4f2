/** What the pages and commands for packing and milk are answered, and who answers. Types only. */
import type { PaperEnding } from '../../paper/paper-ending.ts';
import type { PackingAnswer } from '../../planning/bag/packing.ts';
import type { PackingSettings } from '../../planning/bag/packing-settings.ts';
import type { ContainerState } from '../../planning/milk/ledger.ts';
import type { LedgerLine, Proposal, StoredLedger } from '../../planning/milk/stored-ledger.ts';
import type { NamedBaby, Query } from '../review/review-answers.ts';

/** What the page for packing opens with. */
export interface PackingStart {
  /** Babies that are known, the latest fed first; a name or a birth date may be missing. */
  babies: NamedBaby[];
  settings: PackingSettings;
  /** The family's, IANA name: all days and times are its own. */
  zone: string;
  /** Today and tomorrow there, YYYY-MM-DD. */
  today: string;
  tomorrow: string;
  /** Measured nipples that give milk faster than the pace by themselves: better not sent along. */
  runningTeats: string[];
  /** Milk that can be planned with, mL: not held back, its time not passed; of all containers their number. Null where none was ever entered. */
  onHand: { fridgeMl: number; freezerMl: number; containers: number } | null;
}

export interface ListedContainer extends ContainerState {
  /** It was offered at a feed; what is left in it belongs to that feed. */
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
  /** Plans whose time away has begun: what came back of their bottles, and how the day went. */
  evenings: Evening[];
  /** A label that is still free. */
  nextLabel: string;
}

export type SheetName = 'feeding-plan' | 'day-sheet';

/** What is asked in the evening about one plan. */
export interface Evening {
  plan: string;
  /** Null where no baby has a name. */
  babyName: string | null;
  fromMs: number;
  /** Bottles of which nobody has said yet what came back. */
  bottles: { id: string; ml: number }[];
  /** Null while nobody has said whether there was enough. */
  short: boolean | null;
}

/** All throw PlainErrors that the page shows; FieldErrors stand at the field. */
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
