/** `ebbline board`: the board of a room until Ctrl-C. The work is in `app/ward`. */
import { readFileSync } from 'node:fs';
import { familyZone } from '../../app/kept/family-zone.ts';
import { type BrokerChoice, brokerAndPlace, newId, type PlaceChoice } from '../../app/relay/broker-choice.ts';
import { serveHealth } from '../../app/serve-health.ts';
import { type BoardParts, boardHealth, boardMetrics } from '../../app/ward/board-health.ts';
import { brokerSource } from '../../app/ward/broker-source.ts';
import { demoSource, RoomBoard } from '../../app/ward/room-board.ts';
import { wardBoard } from '../../app/ward/ward-board.ts';
import { wardStudies } from '../../app/ward/ward-studies.ts';
import { webFolder } from '../../app/web-folder.ts';
import { PlainError } from '../../base/errors.ts';
import { boardDoor, type DoorChoice } from '../../server/ward/board-door.ts';
import {
  type BoardServer,
  type BoardServerOptions,
  createBoardServer,
} from '../../server/ward/board-server.ts';
import { readCertificate } from '../../server/ward/own-certificate.ts';
import type { SignIn } from '../../server/ward/sign-in.ts';
import { actsOf, roleFor, rolesOf } from '../../ward/people/roles.ts';
import { say } from '../print-out.ts';
import { sayOnce } from '../say-once.ts';
import { stopSignals } from '../stop-signals.ts';
import { openKept } from '../with-store.ts';

export interface BoardOptions extends Partial<BrokerChoice>, PlaceChoice, DoorChoice {
  demo?: boolean;
  cots: number;
  pagePort: number;
  healthPort?: number;
  signInClient: string;
  signInSecretFile?: string;
  rolesClaim: string;
}

const CAUTION = 'Not a medical device or an alarm. Watch the babies, not the board. Stop with Ctrl-C.';
const LOOK_MS = 1000;

export async function boardCommand(options: BoardOptions): Promise<void> {
  if (options.demo) return serveDemo(options);
  const { broker } = options;
  if (broker === undefined)
    throw new PlainError(
      'board-what',
      'A board needs a broker to hear the sleeves of its room from.',
      'Give --broker, --site and --room; or try it with invented cots: ebbline board --demo.',
    );
  const { address, place } = brokerAndPlace({ ...options, broker });
  const told = (text: string) => process.stderr.write(`ebbline: ${text}\n`);
  const { listenOn, tls } = boardDoor(options);
  const ownTls = tls && {
    read: () => readCertificate(tls.files, tls.address, Date.now()),
    nowMs: Date.now,
    say: told,
  };
  // Checked before the provider is asked and the store is opened, so that errors are reported at once.
  ownTls?.read();
  const signIn = options.signIn === undefined ? null : await signInOf(options, options.signIn);
  const { store, folder } = await openKept(false);
  const source = brokerSource({ address, place, id: newId(), say: told });
  const ward = wardBoard(store, source, { ...place, zone: familyZone(store).zone, nowMs: Date.now });
  const sayTrouble = sayOnce(() => ward.trouble()?.text ?? null, told);
  const looking = setInterval(sayTrouble, LOOK_MS);
  try {
    await serve(
      options,
      {
        view$: ward.board.view$,
        ward: ward.service,
        studies: wardStudies(store, Date.now),
        ...(signIn && { people: signIn }),
        ...(options.address !== undefined && { address: options.address }),
        listenOn,
        tls: ownTls,
      },
      [
        `The board shows room "${place.room}" of site "${place.site}", as heard from ${address.label}.`,
        `Children, labels and the trail are kept in ${folder}.`,
      ],
      ({ certificate }) => ({
        board: ward.board,
        brokerTrouble: source.trouble,
        storeTrouble: ward.trouble,
        certificate,
        nowMs: Date.now,
      }),
    );
  } finally {
    clearInterval(looking);
    await ward.board.close();
    store.close();
  }
  process.exit(0);
}

async function serveDemo(options: BoardOptions): Promise<void> {
  const board = new RoomBoard(demoSource({ seed: 1, cots: options.cots }), {
    ...{ site: 'demo', room: 'Demo', isDemo: true },
    cotOf: (sleeve) => String(sleeve),
  });
  await serve(options, { view$: board.view$ }, ['The board shows invented cots; nothing here is a baby.']);
  await board.close();
  process.exit(0);
}

/** Resolves when it must stop. */
async function serve(
  { pagePort, address, healthPort }: BoardOptions,
  page: Omit<BoardServerOptions, 'port' | 'webFolder'>,
  greeting: readonly string[],
  parts?: (server: BoardServer) => BoardParts,
): Promise<void> {
  const server = await createBoardServer({ ...page, webFolder: webFolder(), port: pagePort });
  const health = parts && healthPort !== undefined && (await healthServer(parts(server), healthPort));
  const stop = stopSignals();
  say([
    ...greeting,
    `Page for the tablet:     ${address ?? server.url}`,
    ...(health ? [`Health and metrics:      ${health.url}/health, ${health.url}/metrics`] : []),
    CAUTION,
  ]);
  await stop.first;
  if (health) await health.close();
  await server.close();
  stop.letGo();
}

const healthServer = (parts: BoardParts, port: number) =>
  serveHealth({ health: boardHealth(parts), metrics: boardMetrics(parts) }, { address: '127.0.0.1', port });

async function signInOf(options: BoardOptions, issuer: string): Promise<SignIn> {
  const { createSignIn } = await import('../../server/ward/sign-in.ts');
  return createSignIn({
    issuer,
    clientId: options.signInClient,
    clientSecret: secretOf(options.signInSecretFile),
    address: options.address ?? `http://127.0.0.1:${options.pagePort}`,
    rolesClaim: options.rolesClaim,
    rolesOf,
    rules: { roleFor, actsOf },
  });
}

function secretOf(file: string | undefined): string {
  try {
    const secret =
      file === undefined ? process.env.EBBLINE_SIGN_IN_SECRET : readFileSync(file, 'utf8').trim();
    if (secret) return secret;
  } catch (cause) {
    throw new PlainError(
      'sign-in-secret',
      `The secret of the sign-in cannot be read from ${file} (${cause instanceof Error ? cause.message : cause}).`,
      'Check its name and that you may read it.',
      { cause },
    );
  }
  throw new PlainError(
    'sign-in-secret',
    'The sign-in needs a secret, and none was given.',
    'Put it in a file and name that with --sign-in-secret-file, or in EBBLINE_SIGN_IN_SECRET.',
  );
}
