/** `ebbline board`: the board of a room until Ctrl-C. */
import { readFileSync } from 'node:fs';
import { familyZone } from '../../app/kept/family-zone.ts';
import { brokerAndPlace, newId } from '../../app/relay/broker-choice.ts';
import { serveHealth } from '../../app/serve-health.ts';
import { type BoardParts, boardHealth, boardMetrics } from '../../app/ward/board-health.ts';
import { brokerSource } from '../../app/ward/broker-source.ts';
import { demoSource, RoomBoard } from '../../app/ward/room-board.ts';
import { wardBoard } from '../../app/ward/ward-board.ts';
import { wardStudies } from '../../app/ward/ward-studies.ts';
import { webFolder } from '../../app/web-folder.ts';
import { PlainError, readOrRefuse } from '../../base/errors.ts';
import { boardDoor } from '../../server/ward/board-door.ts';
import { type BoardServerOptions, createBoardServer } from '../../server/ward/board-server.ts';
import { readCertificate } from '../../server/ward/own-certificate.ts';
import type { SignIn } from '../../server/ward/sign-in.ts';
import { actsOf, roleFor, rolesOf } from '../../ward/people/roles.ts';
import { untilStopped } from '../closing.ts';
import { warn } from '../print-out.ts';
import { sayOnce } from '../say-once.ts';
import { openKept } from '../with-store.ts';
import type { WardGiven } from './commands.ts';

type BoardOptions = WardGiven<'board'>;

const LOOK_MS = 1000;

export const showBoard = (options: BoardOptions): Promise<never> =>
  options.demo ? demoBoard(options) : roomBoard(options);

const demoBoard = (options: BoardOptions): Promise<never> =>
  untilStopped(async (closing, greet) => {
    const board = new RoomBoard(demoSource({ seed: 1, cots: options.cots }), {
      ...{ site: 'demo', room: 'Demo', isDemo: true },
      cotOf: (sleeve) => String(sleeve),
    });
    closing.push(() => board.close());
    const server = await served(options, { view$: board.view$ });
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
    const source = brokerSource({ address, place, id: newId(), say: warn });
    const ward = wardBoard(store, source, { ...place, zone: familyZone(store).zone, nowMs: Date.now });
    closing.push(() => ward.board.close());
    const sayTrouble = sayOnce(() => ward.trouble()?.text ?? null, warn);
    const looking = setInterval(sayTrouble, LOOK_MS);
    closing.push(() => clearInterval(looking));
    const server = await served(options, {
      ...{ view$: ward.board.view$, ward: ward.service, studies: wardStudies(store, Date.now) },
      ...(people && { people }),
      ...(options.address !== undefined && { address: options.address }),
      listenOn,
      tls: read && { read, nowMs: Date.now, say: warn },
    });
    closing.push(() => server.close());
    const parts = {
      ...{ board: ward.board, brokerTrouble: source.trouble, storeTrouble: ward.trouble },
      ...{ certificate: server.certificate, nowMs: Date.now },
    };
    const health = healthPort === undefined ? null : await healthServer(parts, healthPort);
    if (health) closing.push(() => health.close());
    greet([
      `The board shows room "${place.room}" of site "${place.site}", as heard from ${address.label}.`,
      `Children, labels and the trail are kept in ${folder}.`,
      ...greetingEnd(options, server, health),
    ]);
  });
}

const served = ({ pagePort }: BoardOptions, shown: Omit<BoardServerOptions, 'port' | 'webFolder'>) =>
  createBoardServer({ ...shown, webFolder: webFolder(), port: pagePort });

const healthServer = (parts: BoardParts, port: number) =>
  serveHealth({ health: boardHealth(parts), metrics: boardMetrics(parts) }, { address: '127.0.0.1', port });

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
    clientSecret: secretOf(options.signInSecretFile),
    address: options.address ?? `http://127.0.0.1:${options.pagePort}`,
    rolesClaim: options.rolesClaim,
    rolesOf,
    rules: { roleFor, actsOf },
  });
}

function secretOf(file: string | undefined): string {
  const secret =
    file === undefined
      ? process.env.EBBLINE_SIGN_IN_SECRET
      : readOrRefuse(
          () => readFileSync(file, 'utf8').trim(),
          'sign-in-secret',
          'The secret of the sign-in',
          file,
        );
  if (secret) return secret;
  throw new PlainError(
    'sign-in-secret',
    'The sign-in needs a secret, and none was given.',
    'Put it in a file and name that with --sign-in-secret-file, or in EBBLINE_SIGN_IN_SECRET.',
  );
}
