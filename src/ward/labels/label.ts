/** What a label stands on, and what is known of it. Types and their names. */

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
  /** Since when it counts no more: another was printed in its place. */
  voidAtMs: number | null;
}

/** A child in a cot of this house. */
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
  /** Its label in the milk book. */
  container: string;
  atMs: number;
  /** Since when the bottle holds it no more: fed, or poured away. */
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
  /** Who bound them. */
  by: string | null;
  /** The feed that it was for, once one began. */
  feedId: string | null;
  overAtMs: number | null;
}
