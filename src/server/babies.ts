/** Routes of the page for babies. The service is passed in when the server starts. */
import type { FastifyInstance } from 'fastify';
import type { BabyService } from '../app/babies/baby-answers.ts';
import { answering } from './answering.ts';

export function addBabyRoutes(app: FastifyInstance, service: BabyService): void {
  type ById = { Params: { id: string } };
  app.get('/babies', (_request, reply) => answering(reply, () => service.babies()));
  app.post('/babies', ({ body }, reply) => answering(reply, () => service.add(body)));
  app.post<ById>('/babies/:id', ({ params, body }, reply) =>
    answering(reply, () => service.change(params.id, body)),
  );
  app.post<ById>('/babies/:id/undo-quiet', ({ params }, reply) =>
    answering(reply, () => service.undoQuiet(params.id)),
  );
}
