/** `ebbline board`: the board of a room until Ctrl-C. */
import { brokerAndPlace } from '../../app/relay/broker-choice.ts';
import { serveBoardHealth } from '../../app/ward/board-health.ts';
import { heardRoom, inventedRoom } from '../../app/ward/shown-room.ts';
import { webFolder } from '../../app/web-folder.ts';
import { PlainError } from '../../base/errors.ts';
import { boardDoor } from '../../server/ward/board-door.ts';
import { createBoardServer } from '../../server/ward/board-server.ts';
import { readCertificate } from '../../server/ward/own-certificate.ts';
import type { SignIn } from '../../server/ward/sign-in.ts';
import { signInSecret } from '../../server/ward/sign-in-secret.ts';
import { actsOf, roleFor, rolesOf } from '../../ward/people/roles.ts';
import { untilStopped } from '../closing.ts';
import { warn } from '../print-out.ts';
import { openKept } from '../with-store.ts';
import type { WardGiven } from './commands.ts';

type BoardOptions = WardGiven<'board'>;

export const showBoard = (options: BoardOptions): Promise<never> =>
  options.demo ? demoBoard(options) : roomBoard(options);

const demoBoard = (options: BoardOptions): Promise<never> =>
  untilStopped(async (closing, greet) => {
    const shown = inventedRoom(options.cots, closing);
    const server = await createBoardServer({ ...shown, webFolder: webFolder(), port: options.pagePort });
    closing.push(() => server.close());
    greet(['The board shows invented cots; nothing here is a baby.', ...greetingEnd(options, server)]);
  });

async function roomBoard(options: BoardOptions): Promise<never> {
  const { broker, healthPort } = options;
  if (broker === undefined)
    throw new PlainError(
      'board-what',
      'A board needs a broker to hear the sleeves of its room from.',
      'Give --broker, --site and --room; or try it with invented cots: ebbline board --demo.',
    );
  const { address, place } = brokerAndPlace({ ...options, broker });
  const { listenOn, tls } = boardDoor(options);
  const read = tls && (() => readCertificate(tls.files, tls.address, Date.now()));
  // Checked before the provider is asked and the store is opened, so that errors are reported at once.
  read?.();
  const people = await signInOf(options);
  const { store, folder } = await openKept({});
  return untilStopped(async (closing, greet) => {
    closing.push(() => store.close());
    const { pages, parts } = heardRoom(store, { address, place, say: warn }, closing);
    const server = await createBoardServer({
      ...{ ...pages, webFolder: webFolder(), port: options.pagePort, listenOn },
      ...(people && { people }),
      ...(options.address !== undefined && { address: options.address }),
      tls: read && { read, nowMs: Date.now, say: warn },
    });
    closing.push(() => server.close());
    const { certificate } = server;
    const health =
      healthPort === undefined ? null : await serveBoardHealth({ ...parts, certificate }, healthPort);
    if (health) closing.push(() => health.close());
    greet([
      `The board shows room "${place.room}" of site "${place.site}", as heard from ${address.label}.`,
      `Children, labels and the trail are kept in ${folder}.`,
      ...greetingEnd(options, server, health),
    ]);
  });
}

const greetingEnd = (
  { address }: BoardOptions,
  { url }: { url: string },
  health: { url: string } | null = null,
): string[] => [
  `Page for the tablet:     ${address ?? url}`,
  ...(health ? [`Health and metrics:      ${health.url}/health, ${health.url}/metrics`] : []),
  'Not a medical device or an alarm. Watch the babies, not the board. Stop with Ctrl-C.',
];

async function signInOf(options: BoardOptions): Promise<SignIn | null> {
  if (options.signIn === undefined) return null;
  const { createSignIn } = await import('../../server/ward/sign-in.ts');
  return createSignIn({
    issuer: options.signIn,
    clientId: options.signInClient,
    clientSecret: signInSecret(options.signInSecretFile),
    address: options.address ?? `http://127.0.0.1:${options.pagePort}`,
    rolesClaim: options.rolesClaim,
    rolesOf,
    rules: { roleFor, actsOf },
  });
}
