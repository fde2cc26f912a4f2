/** Routes of studies: a list, one study, its curves. Read-only. */
import type { FastifyInstance } from 'fastify';
import type { StudyList, StudyService } from '../app/study/page/study-answers.ts';
import { answering } from './answering.ts';

type ByCode = { Params: { code: string }; Querystring: { width?: unknown; language?: unknown } };

const NO_STUDIES: StudyList = { studies: [], setAside: [] };
const WIDTH_PX = { least: 280, usual: 720, most: 1600 } as const;

export function addStudyRoutes(app: FastifyInstance, service: StudyService | null): void {
  app.get('/studies', (_request, reply) => answering(reply, () => service?.studies() ?? NO_STUDIES));
  if (!service) return;
  app.get<ByCode>('/studies/:code', ({ params }, reply) =>
    answering(
      reply,
      () => service.study(params.code),
      () => 404,
    ),
  );
  app.get<ByCode>('/studies/:code/curves.svg', ({ params, query }, reply) =>
    answering(
      reply,
      async () => {
        const asked = Number(query.width ?? WIDTH_PX.usual);
        const width = Number.isFinite(asked) ? asked : WIDTH_PX.usual;
        const widthPx = Math.round(Math.min(WIDTH_PX.most, Math.max(WIDTH_PX.least, width)));
        const svg = await service.curves(params.code, { widthPx, language: query.language });
        return reply
          .type('image/svg+xml; charset=utf-8')
          .header('content-security-policy', "default-src 'none'; style-src 'unsafe-inline'; sandbox")
          .send(svg);
      },
      () => 404,
    ),
  );
}
