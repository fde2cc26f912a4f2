/** Routes of the page for babies. Whoever starts the server brings the desk that answers. */
import type { FastifyInstance } from 'fastify';
import type { Baby } from '../feed/baby.ts';
import type { NoticeKind } from '../feed/live-view.ts';
import type { ScreeningQuestion } from '../pacing/screening.ts';
import { answering } from './answering.ts';

/** A baby, and what its next feed would come by. */
export interface BabyAnswer {
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
export interface BabyDesk {
  babies(): BabiesAnswer;
  add(entry: unknown): BabyAnswer;
  change(id: string, entry: unknown): BabyAnswer;
  /** "As before, please": the sleeve learns anew how quiet it may be. */
  undoQuiet(id: string): BabyAnswer;
}

export function addBabyRoutes(app: FastifyInstance, desk: BabyDesk): void {
  type ById = { Params: { id: string } };
  app.get('/babies', (_request, reply) => answering(reply, () => desk.babies()));
  app.post('/babies', ({ body }, reply) => answering(reply, () => desk.add(body)));
  app.post<ById>('/babies/:id', ({ params, body }, reply) =>
    answering(reply, () => desk.change(params.id, body)),
  );
  app.post<ById>('/babies/:id/undo-quiet', ({ params }, reply) =>
    answering(reply, () => desk.undoQuiet(params.id)),
  );
}
