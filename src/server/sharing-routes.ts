/** Access from the home network, and the routes by which this machine's own page grants and withdraws it. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import type { ErrorAnswer, RightAnswer, SharingAnswer } from './answers.ts';
import { isInNetwork } from './home-network.ts';
import { type AskedFor, type Permission, permission, RIGHTS } from './rights.ts';
import type { ShareDoor } from './share-door.ts';

/** Files for a device without admission: the page on which it enters its code. They contain no data. */
const OPEN_TO_STRANGERS: ReadonlySet<string> = new Set([
  'GET /join',
  'POST /join',
  'GET /join.js',
  'GET /page.css',
  'GET /mark.svg',
]);
const JOIN_CODE = z.strictObject({ code: z.string().max(64) });
const ORDER = z.discriminatedUnion('do', [
  z.strictObject({ do: z.literal('invite'), right: z.enum(RIGHTS).default('help') }),
  z.strictObject({ do: z.literal('withdraw'), device: z.number().int().positive().optional() }),
]);

const refused = (code: string, message: string, remedy: string): ErrorAnswer => ({
  error: { code, message, remedy },
});
const NOT_LET_IN = refused(
  'not-let-in',
  'This device was not let in, or no longer is.',
  'On the computer that runs Ebbline, open More, then Share, and scan the new code.',
);
const TOO_MANY = refused('too-many-requests', 'Too many requests.', 'Wait a minute, then try again.');
const ELSEWHERE = refused(
  'other-network',
  'This page is for devices in the home network.',
  'Connect to that network.',
);
const NOT_FROM_HERE = refused(
  'not-from-here',
  'Only the computer that runs Ebbline can do that.',
  'Do it there.',
);
const NOT_BY_THIS_DEVICE = refused(
  'not-by-this-device',
  'This device was let in to watch or to help, not for that.',
  'Do it on the computer that runs Ebbline, or let this device in again from there with more rights.',
);
const WRONG_CODE = refused(
  'code-wrong',
  'This code was already used, has run out or is wrong.',
  'On the computer that runs Ebbline, open More, then Share, and scan the new code.',
);

/** Refuses requests from the network without admission. Call it before adding routes. */
export function guardSharing(app: FastifyInstance, door: ShareDoor): void {
  app.addHook('onRequest', async (request, reply) => {
    const { socket } = request.raw;
    if (!comesFromNetwork(socket.localAddress, door)) return;
    reply.header('cache-control', 'no-store');
    if (!isInNetwork(socket.remoteAddress, door.network)) return reply.code(403).send(ELSEWHERE);
    const device = door.deviceOf(request.headers.cookie);
    const path = request.url.split('?')[0]!;
    if (device) {
      door.keep(device, socket);
      // Routes decode the path, so this checks the matched route, not the text of the address.
      return refuse(reply, permission(device.right, { ...askedFor(request), body: null }), request.method);
    }
    if (!door.hearsStranger(socket.remoteAddress ?? '')) return reply.code(429).send(TOO_MANY);
    if (OPEN_TO_STRANGERS.has(`${request.method} ${path}`)) return;
    if (request.method === 'GET' && path === '/') return reply.redirect('/join', 303);
    return reply.code(401).send(NOT_LET_IN);
  });
  // Whether a helper may give an order depends on its body.
  app.addHook('preHandler', async (request, reply) => {
    if (!comesFromNetwork(request.raw.socket.localAddress, door)) return;
    const device = door.deviceOf(request.headers.cookie);
    if (device) return refuse(reply, permission(device.right, askedFor(request)));
  });
}

const askedFor = ({ method, routeOptions, body }: FastifyRequest): AskedFor => ({
  method,
  route: routeOptions.url ?? null,
  body,
});

/** @param unread  method of a request whose body is not read yet: a helper's order is decided afterwards */
function refuse(reply: FastifyReply, may: Permission, unread = 'GET'): FastifyReply | undefined {
  if (may === 'only-from-here') return reply.code(403).send(NOT_FROM_HERE);
  if (may === 'not-by-this-device' && unread === 'GET') return reply.code(403).send(NOT_BY_THIS_DEVICE);
  return undefined;
}

/** Decided by the address of the connection; headers of the request do not count. */
export const comesFromNetwork = (localAddress: string | undefined, door: ShareDoor): boolean =>
  localAddress?.replace(/^::ffff:/i, '') === door.network.address;

export function addSharingRoutes(app: FastifyInstance, door: ShareDoor | null): void {
  app.get('/sharing', async (_request, reply): Promise<SharingAnswer> => {
    reply.header('cache-control', 'no-store');
    return sharingAnswer(door);
  });
  app.get('/right', async ({ raw, headers }, reply): Promise<RightAnswer> => {
    reply.header('cache-control', 'no-store');
    const isFromHere = !door || !comesFromNetwork(raw.socket.localAddress, door);
    return { right: isFromHere ? 'all' : (door.deviceOf(headers.cookie)?.right ?? 'watch') };
  });
  if (!door) return;

  app.post('/sharing', async (request, reply) => {
    reply.header('cache-control', 'no-store');
    const order = ORDER.safeParse(request.body);
    if (!order.success) {
      const remedy = 'Send {"do": "invite"} or {"do": "withdraw"}; nothing was changed.';
      return reply.code(400).send(refused('bad-order', 'The order is not understood.', remedy));
    }
    if (order.data.do === 'invite') door.invite(order.data.right);
    else door.withdraw(order.data.device);
    return sharingAnswer(door);
  });
  app.get('/join', (_request, reply) => reply.sendFile('join.html'));
  app.post('/join', async (request, reply) => {
    reply.header('cache-control', 'no-store');
    const body = JOIN_CODE.safeParse(request.body);
    const cookie = body.success ? door.admit(body.data.code) : null;
    if (cookie === null) return reply.code(403).send(WRONG_CODE);
    return reply.header('set-cookie', cookie).code(204).send();
  });
}

const sharingAnswer = (door: ShareDoor | null): SharingAnswer =>
  door ? { on: true, invitation: door.invitation, devices: door.devices } : { on: false };
