/** Routes of studies: a list, one study, its curves. Read-only. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { StudyList, StudyService } from '../app/study/page/study-answers.ts';
import { answering } from './answering.ts';

type ByCode = { Params: { code: string }; Querystring: { width?: unknown; language?: unknown } };

const NO_STUDIES: StudyList = { studies: [], setAside: [] };
const WIDTH_PX = { least: 280, usual: 720, most: 1600 } as const;

type Asked = FastifyRequest<ByCode>;
/** Null: it was refused already. */
export type GiveStudies = (request: Asked, reply: FastifyReply) => StudyService | null;

/** @param give  null where there can be no studies */
export function addStudyRoutes(app: FastifyInstance, give: GiveStudies | null): void {
  type Does = (service: StudyService, request: Asked, reply: FastifyReply) => unknown;
  const route = (url: string, does: Does, status: number): void => {
    app.get<ByCode>(url, (request, reply) => {
      const service = give?.(request, reply);
      if (service === null) return reply;
      return answering(
        reply,
        () => (service ? does(service, request, reply) : NO_STUDIES),
        () => status,
      );
    });
  };
  route('/studies', (service) => service.studies(), 422);
  if (!give) return;
  route('/studies/:code', (service, { params }) => service.study(params.code), 404);
  route(
    '/studies/:code/curves.svg',
    async (service, { params, query }, reply) => {
      const asked = Number(query.width ?? WIDTH_PX.usual);
      const width = Number.isFinite(asked) ? asked : WIDTH_PX.usual;
      const widthPx = Math.round(Math.min(WIDTH_PX.most, Math.max(WIDTH_PX.least, width)));
      const svg = await service.curves(params.code, { widthPx, language: query.language });
      return reply
        .type('image/svg+xml; charset=utf-8')
        .header('content-security-policy', "default-src 'none'; style-src 'unsafe-inline'; sandbox")
        .send(svg);
    },
    404,
  );
}
