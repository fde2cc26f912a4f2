/** Answers of the page for babies, and the interface of its service. Types only. */

import type { NoticeKind } from '../../feed/live/live-view.ts';
import type { Baby } from '../../feed/record/baby.ts';
import type { OwnFeedKnown } from '../../pacing/profile/weighed-feeds.ts';
import type { ScreeningQuestion } from '../../pacing/screening.ts';

/** A baby, and the settings of its next feed. */
export interface BabyAnswer {
  /** The own feed at the breast, from weighed feeds; null below three. */
  ownFeed: OwnFeedKnown | null;
  baby: Baby;
  notices: readonly NoticeKind[];
  /** From past feeds, mL; null if there are too few. */
  learnedUsualMl: number | null;
}

/** A figure of a plan: the shipped value, and the range that it may be set to. */
export interface PlanFigure {
  value: number;
  min: number;
  max: number;
}

export interface BabiesAnswer {
  babies: BabyAnswer[];
  questions: readonly ScreeningQuestion[];
  planFigures: Record<
    'lastingRate' | 'lastingDepth' | 'pouringRate' | 'pouringDepth' | 'sucks' | 'pauseSec',
    PlanFigure
  >;
}

/** All throw PlainErrors that the page shows; FieldErrors are shown at the field. */
export interface BabyService {
  babies(): BabiesAnswer;
  add(entry: unknown): BabyAnswer;
  change(id: string, entry: unknown): BabyAnswer;
  /** Resets the quiet level: only later feeds count for it. */
  undoQuiet(id: string): BabyAnswer;
}
