/** Labels, and the records about them. Types only. */

export const LABEL_KINDS = ['child', 'bottle', 'sleeve'] as const;
export type LabelKind = (typeof LABEL_KINDS)[number];

export interface Label {
  code: string;
  kind: LabelKind;
  /** Of a child's label. */
  babyId: string | null;
  /** Of a sleeve's label: its number. */
  sleeve: number | null;
  madeAtMs: number;
  /** When it became invalid, because another was printed. */
  voidAtMs: number | null;
}

/** A child in a cot. */
export interface Stay {
  babyId: string;
  cot: string;
  fromMs: number;
  /** Null while the child is here. */
  untilMs: number | null;
}

/** What a bottle holds, and for whom. */
export interface Filling {
  no: number;
  bottle: string;
  babyId: string;
  /** Its label in the milk ledger. */
  container: string;
  atMs: number;
  /** When the bottle was emptied: fed, or poured away. */
  overAtMs: number | null;
}

/** Child, bottle and sleeve, for the next feed. */
export interface Binding {
  no: number;
  atMs: number;
  babyId: string;
  bottle: string;
  sleeve: number;
  container: string;
  /** The person who bound them. */
  by: string | null;
  /** Id of the feed, once it began. */
  feedId: string | null;
  overAtMs: number | null;
}
