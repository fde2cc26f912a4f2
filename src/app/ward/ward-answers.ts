/** What the pages of a house with many are answered, and who answers. Types only. */
import type { TrailLine } from '../../store/ward/trail.ts';
import type { StopCode } from '../../ward/binding/bind.ts';
import type { LabelKind } from '../../ward/labels/label.ts';
import type { Act, Role } from '../../ward/people/roles.ts';

/** By whom it is done, for the trail. */
export interface Who {
  person: string;
  role: Role | 'computer';
}

export type BindAnswer =
  | {
      state: 'stop';
      stop: StopCode;
      /** What was scanned that it is about. */
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
  /** Until when that may be used; null where nothing is left, or the kind of milk is not known. */
  leftUntilMs: number | null;
  minutes: number | null;
  fedBy: string | null;
  note: string | null;
}

/** What is left over, and bottles that are filled: until when it may be used. */
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
  lines: Omit<TrailLine, 'seal'>[];
  /** The first line that is not as it was written; null: whole. */
  broken: number | null;
}

/** Who is looking at the page. */
export interface MeAnswer {
  name: string;
  acts: Act[];
}

export interface WardService {
  bind(texts: readonly string[], who: Who): BindAnswer;
  /** A bottle is filled for a child. @throws PlainError, FieldError */
  fill(data: unknown, who: Who): { useByMs: number };
  /** The feed of a sleeve is over, or will not be. */
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
  /** The own children's feeds, of a parent. */
  ownChildren(personId: string, who: Who): HandoverAnswer;
  /** Opening the board is a look at the room. */
  opened(who: Who): void;
}
