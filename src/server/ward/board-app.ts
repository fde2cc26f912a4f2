/** The routes of a room's board. Nothing here listens. */
import { resolve } from 'node:path';
import fastifyStatic from '@fastify/static';
import Fastify, { type FastifyInstance } from 'fastify';
import type { Observable } from 'rxjs';
import type { BoardView } from '../../ward/board/board-view.ts';
import { addErrorAnswers, BODY_MAX_BYTES, PATIENCE, requirePage, sendNothingHere } from '../app.ts';
import { refusal, SAFETY_HEADERS } from '../gate.ts';
import { LiveStream } from '../live-stream.ts';

export interface BoardAppOptions {
  /** Hot; it emits at least once a second: the page takes silence for a lost board. */
  view$: Observable<BoardView>;
  /** Folder of the built page, `dist/web`. */
  webFolder: string;
  onError?: (error: unknown) => void;
}

/** Labels are scanned with the tablet's camera, by this page alone. */
const HEADERS = {
  ...SAFETY_HEADERS,
  'permissions-policy': 'camera=(self), microphone=(), geolocation=()',
};

/** @param port asked at each request @throws PlainError when the page was never built */
export function buildBoard(options: BoardAppOptions, port: () => number): FastifyInstance {
  requirePage(options.webFolder);
  const app = Fastify({
    bodyLimit: BODY_MAX_BYTES,
    forceCloseConnections: true,
    exposeHeadRoutes: false,
    ...PATIENCE,
    frameworkErrors: (_fault, request, reply) => sendNothingHere(request, reply),
  });
  app.removeContentTypeParser('text/plain');
  app.addHook('onRequest', async (request, reply) => {
    reply.headers(HEADERS);
    const refused = refusal(request.headers, port(), null, request.url.split('?')[0]!);
    if (refused) return reply.code(403).header('cache-control', 'no-store').send({ error: refused });
  });
  addErrorAnswers(app, options);
  addBoardStream(app, options);
  app.register(fastifyStatic, {
    root: resolve(options.webFolder),
    cacheControl: false,
    index: 'board.html',
  });
  return app;
}

function addBoardStream(app: FastifyInstance, { view$, onError }: BoardAppOptions): void {
  const stream = new LiveStream(view$, onError ? { onError } : {});
  app.addHook('preClose', async () => stream.close());
  app.get('/board', (_request, reply) => {
    reply.hijack();
    reply.raw.writeHead(200, {
      ...HEADERS,
      'content-type': 'text/event-stream; charset=utf-8',
      'cache-control': 'no-store',
    });
    stream.join(reply.raw);
  });
}
