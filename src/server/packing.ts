/** Routes of the pages for packing and for the milk list. The service is passed in when the server starts. */
import type { FastifyInstance } from 'fastify';
import type { PackingService } from '../app/packing/packing-answers.ts';
import type { Query } from '../app/review/review-answers.ts';
import { answering, sendPaper } from './answering.ts';

export function addPackingRoutes(app: FastifyInstance, service: PackingService): void {
  app.get('/packing', (_request, reply) => answering(reply, () => service.start()));
  app.post('/packing/plan', ({ body }, reply) => answering(reply, () => service.plan(body)));
  app.post('/packing/settings', ({ body }, reply) => answering(reply, () => service.keepSettings(body)));
  app.get('/milk', (_request, reply) => answering(reply, () => service.milk()));
  app.post('/milk', ({ body }, reply) => answering(reply, () => service.enterMilk(body)));
  for (const name of ['feeding-plan', 'day-sheet'] as const) {
    for (const ending of ['pdf', 'html'] as const) {
      app.get<{ Querystring: Query }>(`/packing/${name}.${ending}`, ({ query }, reply) =>
        answering(reply, async () => {
          return sendPaper(reply, 'inline', name, ending, await service.sheet(name, ending, query));
        }),
      );
    }
  }
}
