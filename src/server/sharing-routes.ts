/** What the home network may reach, and how this machine's own page gives and takes that right. */
import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import type { ErrorAnswer, SharingAnswer } from './answers.ts';
import { isInNetwork } from './home-network.ts';
import type { ShareDoor } from './share-door.ts';

/** All that a device sees that was not let in: the page on which it hands in its code. None of it says anything of a feed. */
const OPEN_TO_STRANGERS: ReadonlySet<string> = new Set([
  'GET /join',
  'POST /join',
  'GET /join.js',
  'GET /page.css',
  'GET /mark.svg',
]);
/** What a device that was let in may not do. */
const ONLY_FROM_HERE: ReadonlySet<string> = new Set(['/sharing', '/kept/forget']);
const JOIN_CODE = z.strictObject({ code: z.string().max(64) });
const ORDER = z.discriminatedUnion('do', [
  z.strictObject({ do: z.literal('invite') }),
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
const WRONG_CODE = refused(
  'code-wrong',
  'This code was already used, has run out or is wrong.',
  'On the computer that runs Ebbline, open More, then Share, and scan the new code.',
);

/** Turns away whoever comes from the network without having been let in. To be called before any route is added. */
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
      // Routes decode the path, so this looks at the route that was found, not at what was written.
      if (ONLY_FROM_HERE.has(request.routeOptions.url ?? '')) return reply.code(403).send(NOT_FROM_HERE);
      return;
    }
    if (!door.hearsStranger()) return reply.code(429).send(TOO_MANY);
    if (OPEN_TO_STRANGERS.has(`${request.method} ${path}`)) return;
    if (request.method === 'GET' && path === '/') return reply.redirect('/join', 303);
    return reply.code(401).send(NOT_LET_IN);
  });
}

/** By the address on which the connection came in: whatever a request says of itself does not count. */
export const comesFromNetwork = (localAddress: string | undefined, door: ShareDoor): boolean =>
  localAddress?.replace(/^::ffff:/i, '') === door.network.address;

export function addSharingRoutes(app: FastifyInstance, door: ShareDoor | null): void {
  app.get('/sharing', async (_request, reply): Promise<SharingAnswer> => {
    reply.header('cache-control', 'no-store');
    return sharingAnswer(door);
  });
  if (!door) return;

  app.post('/sharing', async (request, reply) => {
    reply.header('cache-control', 'no-store');
    const order = ORDER.safeParse(request.body);
    if (!order.success) {
      const remedy = 'Send {"do": "invite"} or {"do": "withdraw"}; nothing was changed.';
      return reply.code(400).send(refused('bad-order', 'The order is not understood.', remedy));
    }
    if (order.data.do === 'invite') door.invite();
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
