/** Routes of the ward's pages. */
import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import type { WardService, Who } from '../../app/ward/ward-answers.ts';
import { PlainError } from '../../base/errors.ts';
import type { Act } from '../../ward/people/roles.ts';
import { answering, sendPaper } from '../answering.ts';
import { allowed, type People } from './people.ts';

const codes = z.strictObject({ codes: z.array(z.string().max(80)).max(6) });
const one = z.strictObject({ code: z.string().max(80) });
function read<S extends z.ZodType>(schema: S, body: unknown): z.output<S> {
  const parsed = schema.safeParse(body);
  if (parsed.success) return parsed.data;
  throw new PlainError(
    'bad-request',
    'The request was not understood.',
    'Load the page again; nothing was changed.',
  );
}

const HOUR_MS = 3600_000;
/** A shift; own choice, no source. */
const SHIFT_HOURS = 8;

export function addWardRoutes(
  app: FastifyInstance,
  { service, people, nowMs }: { service: WardService; people: People; nowMs: () => number },
): void {
  type Handler = (who: Who, request: { body: unknown; query: unknown }, person: string) => unknown;
  const route = (method: 'GET' | 'POST', url: string, act: Act, does: Handler): void => {
    app.route({
      method,
      url,
      handler: async (request, reply) => {
        const who = allowed(people, act, request, reply);
        if (!who) return reply;
        return answering(reply, () => does(who, request, who.person));
      },
    });
  };
  route('POST', '/bind', 'bind', (who, { body }) => service.bind(read(codes, body).codes, who));
  route('POST', '/fill', 'bind', (who, { body }) => service.fill(body, who));
  route('POST', '/release', 'bind', (who, { body }) => {
    service.release(read(one, body).code, who);
    return {};
  });
  route('GET', '/children', 'bind', (who) => service.children(who));
  route('GET', '/handover', 'bind', (who, { query }) => service.handover(shiftOf(query, nowMs()), who));
  route('GET', '/trail', 'trail', (who) => service.trail(who));
  route('GET', '/own', 'own-child', (who, _request, person) => service.ownChildren(person, who));
  app.get('/handover.pdf', async (request, reply) => {
    const who = allowed(people, 'bind', request, reply);
    if (!who) return reply;
    const language = (request.query as { language?: unknown }).language === 'es' ? 'es' : 'en';
    const asked = { ...shiftOf(request.query, nowMs()), language, ending: 'pdf' } as const;
    return answering(reply, async () =>
      sendPaper(reply, 'inline', 'for-the-next-shift', 'pdf', await service.handoverPaper(asked, who)),
    );
  });
}

function shiftOf(query: unknown, nowMs: number): { fromMs: number; toMs: number } {
  const asked = Number((query as { hours?: unknown }).hours ?? SHIFT_HOURS);
  const hours = Number.isFinite(asked) ? Math.min(24, Math.max(1, asked)) : SHIFT_HOURS;
  return { fromMs: nowMs - hours * HOUR_MS, toMs: nowMs };
}
