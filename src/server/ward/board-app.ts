/** The routes of a room's board. Nothing here listens. */
import type { IncomingHttpHeaders } from 'node:http';
import { resolve } from 'node:path';
import fastifyStatic from '@fastify/static';
import type { FastifyInstance, FastifyServerFactory } from 'fastify';
import type { Observable } from 'rxjs';
import type { StudyService } from '../../app/study/page/study-answers.ts';
import type { WardService, Who } from '../../app/ward/ward-answers.ts';
import type { BoardView } from '../../ward/board/board-view.ts';
import { addErrorAnswers, bareApp } from '../bare-app.ts';
import { comesFromElsewhere, refusal, SAFETY_HEADERS } from '../gate.ts';
import { LiveStream } from '../live-stream.ts';
import { addStudyRoutes } from '../studies.ts';
import { addMe, allowed, type People, THIS_COMPUTER } from './people.ts';
import type { SignIn } from './sign-in.ts';
import { addWardRoutes } from './ward-routes.ts';

export interface BoardAppOptions {
  /** Hot; it emits at least once a second: the page treats silence as a lost board. */
  view$: Observable<BoardView>;
  /** Folder of the built page, `dist/web`. */
  webFolder: string;
  /** Labels, bindings and data of children; without it there is only the board. */
  ward?: WardService;
  /** Studies for researchers, as told to one of them. */
  studies?: (who: Who) => StudyService;
  /** Who may use it; default: everybody at this computer, without sign-in. */
  people?: People & Partial<Pick<SignIn, 'addRoutes'>>;
  /** Where people reach it by TLS, its own or of a server before it, such as https://board.example. */
  address?: string;
  serverFactory?: FastifyServerFactory;
  nowMs?: () => number;
  onError?: (error: unknown) => void;
}

/** Labels are scanned with the tablet's camera, by this page alone. */
const HEADERS = {
  ...SAFETY_HEADERS,
  'permissions-policy': 'camera=(self), microphone=(), geolocation=()',
};

/** @param port called at each request @throws PlainError when the page was never built */
export function buildBoard(options: BoardAppOptions, port: () => number): FastifyInstance {
  const app = bareApp(options.webFolder, options.serverFactory);
  app.addHook('onRequest', async (request, reply) => {
    reply.headers(HEADERS);
    const path = request.url.split('?')[0]!;
    const refused = isFrom(request.headers, options.address, path)
      ? null
      : refusal(request.headers, port(), null, path);
    if (refused) return reply.code(403).header('cache-control', 'no-store').send({ error: refused });
  });
  addErrorAnswers(app, options);
  const people: NonNullable<BoardAppOptions['people']> = options.people ?? THIS_COMPUTER;
  people.addRoutes?.(app);
  addMe(app, people, { children: options.ward !== undefined, studies: options.studies !== undefined });
  addBoardStream(app, options, people);
  if (options.ward) addWardRoutes(app, { service: options.ward, people, nowMs: options.nowMs ?? Date.now });
  const { studies } = options;
  if (studies)
    addStudyRoutes(app, (request, reply) => {
      const who = allowed(people, 'coded', request, reply);
      return who && studies(who);
    });
  app.register(fastifyStatic, {
    root: resolve(options.webFolder),
    cacheControl: false,
    index: 'board.html',
  });
  return app;
}

/** Whether a request comes from our own page at the public address; requests from foreign pages are refused. */
function isFrom(headers: IncomingHttpHeaders, address: string | undefined, path: string): boolean {
  if (address === undefined || headers.host?.toLowerCase() !== new URL(address).host) return false;
  if (headers.origin !== undefined && headers.origin !== new URL(address).origin) return false;
  return !comesFromElsewhere(headers, path);
}

function addBoardStream(
  app: FastifyInstance,
  { view$, onError, ward }: BoardAppOptions,
  people: People,
): void {
  const stream = new LiveStream(view$, onError ? { onError } : {});
  app.addHook('preClose', async () => stream.close());
  app.get('/board', (request, reply) => {
    const who = allowed(people, 'board', request, reply);
    if (!who) return;
    ward?.opened(who);
    reply.hijack();
    reply.raw.writeHead(200, {
      ...HEADERS,
      'content-type': 'text/event-stream; charset=utf-8',
      'cache-control': 'no-store',
    });
    stream.join(reply.raw);
  });
}
