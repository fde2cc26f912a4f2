/** Answers of the ward's pages, and the interface of their service. Types only. */
import type { TrailLine } from '../../store/ward/trail.ts';
import type { StopCode } from '../../ward/binding/bind.ts';
import type { LabelKind } from '../../ward/labels/label.ts';
import type { Act, Role } from '../../ward/people/roles.ts';

/** The person who acts, for the audit trail. */
export interface Who {
  person: string;
  role: Role | 'computer';
}

export type BindAnswer =
  | {
      state: 'stop';
      stop: StopCode;
      /** The scanned text that it is about. */
      text: string | null;
    }
  | { state: 'more'; has: LabelKind[]; needs: LabelKind[] }
  | { state: 'bound'; cot: string; sleeve: number; useByMs: number };

export interface ChildHere {
  babyId: string;
  name: string;
  cot: string;
}

export interface HandoverFeed {
  atMs: number;
  kind: 'bottle' | 'breast' | 'refused';
  takenMl: number | null;
  leftMl: number | null;
  /** Until when left-over milk may be used; null if nothing is left, or the kind of milk is not known. */
  leftUntilMs: number | null;
  minutes: number | null;
  fedBy: string | null;
  note: string | null;
}

/** Left-over milk and filled bottles: until when they may be used. */
export interface HandoverMilk {
  label: string;
  ml: number;
  useByMs: number;
  isLeftOver: boolean;
}

export interface HandoverChild {
  name: string;
  cot: string;
  feeds: HandoverFeed[];
  milk: HandoverMilk[];
}

export interface HandoverAnswer {
  fromMs: number;
  toMs: number;
  zone: string;
  children: HandoverChild[];
  /** Where the trail stands, to be kept on paper; null for a parent. */
  trailMark: string | null;
}

export interface TrailAnswer {
  /** A child by its name, one that was forgotten by its number. */
  lines: (Omit<TrailLine, 'seal'> & { child: string | null })[];
  /** The first line that is not as it was written; null: whole. */
  broken: number | null;
}

/** The person who looks at the page. */
export interface MeAnswer {
  name: string;
  acts: Act[];
}

export interface WardService {
  bind(texts: readonly string[], who: Who): BindAnswer;
  /** A bottle is filled for a child. @throws PlainError, FieldError */
  fill(data: unknown, who: Who): { useByMs: number };
  /** The feed of a sleeve is over, or will not take place. */
  release(text: string, who: Who): void;
  children(who: Who): ChildHere[];
  handover(asked: { fromMs: number; toMs: number }, who: Who): HandoverAnswer;
  handoverPaper(
    asked: { fromMs: number; toMs: number; language: 'en' | 'es'; ending: 'pdf' | 'html' },
    who: Who,
  ): Promise<string | Uint8Array>;
  trail(who: Who): TrailAnswer;
  /** Whether the trail still has the line that was marked on some earlier sheet. */
  isTrailAsMarked(mark: string, who: Who): boolean;
  /** Feeds of a parent's own children. */
  ownChildren(personId: string, who: Who): HandoverAnswer;
  /** Opening the board is recorded as a look at the room. */
  opened(who: Who): void;
}
