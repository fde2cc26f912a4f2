/** What the page for babies is answered, and who answers. Types only. */

import type { NoticeKind } from '../../feed/live/live-view.ts';
import type { Baby } from '../../feed/record/baby.ts';
import type { OwnFeedKnown } from '../../pacing/profile/weighed-feeds.ts';
import type { ScreeningQuestion } from '../../pacing/screening.ts';

/** A baby, and what its next feed would come by. */
export interface BabyAnswer {
  /** Her own feed at the breast, from weighed feeds; null before there are enough. */
  ownFeed: OwnFeedKnown | null;
  baby: Baby;
  notices: readonly NoticeKind[];
  /** From past feeds, mL; null while there are too few. */
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

/** All throw PlainErrors that the page shows; FieldErrors stand at the field. */
export interface BabyService {
  babies(): BabiesAnswer;
  add(entry: unknown): BabyAnswer;
  change(id: string, entry: unknown): BabyAnswer;
  /** "As before, please": the sleeve learns anew how quiet it may be. */
  undoQuiet(id: string): BabyAnswer;
}
