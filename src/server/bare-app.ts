/** The common part of our servers: limits of requests, JSON only, and error answers. */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import Fastify, {
  type FastifyInstance,
  type FastifyReply,
  type FastifyRequest,
  type FastifyServerFactory,
} from 'fastify';
import { PlainError } from '../base/errors.ts';
import type { ErrorAnswer } from './answers.ts';
import { SAFETY_HEADERS } from './gate.ts';

/** Largest body; a command is a few hundred bytes. */
const BODY_MAX_BYTES = 16 * 1024;
/** Time limits for receiving head and body of a request; streams that we send are not limited. */
export const PATIENCE = {
  requestTimeout: 10_000,
  http: { connectionsCheckingInterval: 2000, headersTimeout: 10_000 },
} as const;

/**
 * @param serverFactory  makes the server, where it is not plain HTTP
 * @throws PlainError when the built page is not in `webFolder`
 */
export function bareApp(webFolder: string, serverFactory?: FastifyServerFactory): FastifyInstance {
  requirePage(webFolder);
  const app = Fastify({
    bodyLimit: BODY_MAX_BYTES,
    forceCloseConnections: true,
    exposeHeadRoutes: false,
    ...PATIENCE,
    ...(serverFactory && { serverFactory }),
    frameworkErrors: (_fault, request, reply) => sendNothingHere(request, reply),
  });
  // Only JSON: a form or plain-text post from a foreign page then needs a preflight, which is never granted.
  app.removeContentTypeParser('text/plain');
  return app;
}

function requirePage(webFolder: string): void {
  if (existsSync(join(webFolder, 'index.html'))) return;
  throw new PlainError(
    'page-not-built',
    `The page has not been built: there is no index.html in ${webFolder}.`,
    'Run: npm run build',
  );
}

export function addErrorAnswers(
  app: FastifyInstance,
  { onError }: { onError?: (error: unknown) => void },
): void {
  app.setNotFoundHandler(sendNothingHere);
  app.setErrorHandler<Error & { code?: string; statusCode?: number }>((fault, request, reply) => {
    reply.header('cache-control', 'no-store');
    if (fault instanceof PlainError) {
      const status = request.method === 'POST' ? 409 : 500;
      return reply.code(status).send(errorAnswer(fault.code, fault.message, fault.remedy));
    }
    const status = fault.statusCode ?? 500;
    if (status >= 400 && status < 500) {
      const remedy = 'Send one JSON object with the content type application/json; nothing was changed.';
      return reply
        .code(status)
        .send(errorAnswer('bad-request', `The request was not understood: ${fault.message}.`, remedy));
    }
    onError?.(fault);
    return reply
      .code(500)
      .send(
        errorAnswer(
          'FAULT',
          'Something went wrong inside Ebbline.',
          'Try again; if it stays, restart Ebbline.',
        ),
      );
  });
}

/** Answers an unknown address: for a browser a sentence with a link, for a program an object. */
function sendNothingHere(request: FastifyRequest, reply: FastifyReply): FastifyReply {
  reply.code(404).headers(SAFETY_HEADERS).header('cache-control', 'no-store');
  if (!request.headers.accept?.includes('text/html')) {
    return reply.send(
      errorAnswer('no-such-page', 'There is nothing at this address.', 'Open the page at /.'),
    );
  }
  return reply.type('text/html; charset=utf-8').send(NOTHING_HERE);
}

const NOTHING_HERE = `<!doctype html><html lang="en"><meta charset="utf-8"><title>Ebbline</title>
<meta name="viewport" content="width=device-width">
<p>There is nothing at this address. <a href="/">Open Ebbline</a></p>
<p lang="es">No hay nada en esta dirección. <a href="/">Abrir Ebbline</a></p></html>`;

export const errorAnswer = (code: string, message: string, remedy: string): ErrorAnswer => ({
  error: { code, message, remedy },
});
