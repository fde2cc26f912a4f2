/** Routes about past feeds: found and described, days, weeks, files to hand on, corrections and feeds written in by hand. */
import type { FastifyInstance, FastifyReply } from 'fastify';
import type { Query, ServedReview } from '../app/review/review-answers.ts';
import { answering as answer, sendPaper } from './answering.ts';

type Asked = { Querystring: Query };
type AskedById = Asked & { Params: { id: string } };

export function addReviewRoutes(app: FastifyInstance, service: ServedReview): void {
  const answering = (reply: FastifyReply, act: () => unknown): Promise<unknown> =>
    answer(reply, act, ({ code }) => (NOT_THERE.has(code) ? 404 : 422));

  app.get<Asked>('/found', ({ query }, reply) => answering(reply, () => service.find(query)));
  app.get<AskedById>('/feeds/:id/told', ({ params, query }, reply) =>
    answering(reply, () => service.told(params.id, query)),
  );
  app.get<AskedById>('/feeds/:id/values', ({ params }, reply) =>
    answering(reply, () => service.values(params.id)),
  );
  app.get<AskedById>('/feeds/:id/after', ({ params }, reply) =>
    answering(reply, () => service.after(params.id)),
  );
  app.get<Asked>('/curves', ({ query }, reply) => answering(reply, () => service.curves(query)));
  app.post<AskedById>('/feeds/:id/corrections', ({ params, query, body }, reply) =>
    answering(reply, () => service.correct(params.id, body, query)),
  );
  for (const ending of ['pdf', 'html'] as const) {
    app.get<AskedById>(`/feeds/:id/file.${ending}`, ({ params, query }, reply) =>
      answering(reply, async () => {
        const file = await service.file(params.id, ending, query);
        return sendPaper(reply, 'attachment', `ebbline-${safeName(params.id)}`, ending, file);
      }),
    );
  }
  app.get<Asked>('/compare.svg', ({ query }, reply) =>
    answering(reply, async () => {
      const svg = await service.compare(query);
      return reply
        .type('image/svg+xml; charset=utf-8')
        .header('content-security-policy', "default-src 'none'; style-src 'unsafe-inline'; sandbox")
        .send(svg);
    }),
  );
  app.get<Asked>('/day', ({ query }, reply) => answering(reply, () => service.day(query)));
  app.get<Asked>('/week', ({ query }, reply) => answering(reply, () => service.week(query)));
  app.get<Asked>('/day/file.html', ({ query }, reply) =>
    answering(reply, async () =>
      sendPaper(
        reply,
        'attachment',
        `ebbline-${safeName(String(query.day ?? 'day'))}`,
        'html',
        await service.dayFile(query),
      ),
    ),
  );
  app.post('/hand-feeds', ({ body }, reply) => answering(reply, () => service.writeFeed(body)));
  app.get('/zone', (_request, reply) => answering(reply, () => service.zone()));
  app.post('/zone', ({ body }, reply) => answering(reply, () => service.setZone(body)));
  app.get('/whose', (_request, reply) => answering(reply, () => service.whose()));
  app.post('/whose', ({ body }, reply) => answering(reply, () => service.sayWhose(body)));
  app.post<AskedById>('/hand-feeds/:id/take-back', ({ params }, reply) =>
    answering(reply, () => service.takeBackFeed(params.id)),
  );
}

const NOT_THERE = new Set(['feed-unknown', 'store-no-feed']);

/** For a file name in a header: all other characters are removed. */
const safeName = (name: string): string => name.replaceAll(/[^\w-]/g, '').slice(0, 60);
