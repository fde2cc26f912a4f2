/** `ebbline board`: the board of a room until Ctrl-C. */
import { readFileSync } from 'node:fs';
import { familyZone } from '../../app/kept/family-zone.ts';
import { type BrokerChoice, brokerAndPlace, newId, type PlaceChoice } from '../../app/relay/broker-choice.ts';
import { brokerSource } from '../../app/ward/broker-source.ts';
import { demoSource, RoomBoard } from '../../app/ward/room-board.ts';
import { wardBoard } from '../../app/ward/ward-board.ts';
import { webFolder } from '../../app/web-folder.ts';
import { PlainError } from '../../base/errors.ts';
import { type BoardServerOptions, createBoardServer } from '../../server/ward/board-server.ts';
import type { SignIn } from '../../server/ward/sign-in.ts';
import { actsOf, roleFor, rolesOf } from '../../ward/people/roles.ts';
import { untilStopped } from '../closing.ts';
import { warn } from '../print-out.ts';
import { openKept } from '../with-store.ts';

export interface BoardOptions extends Partial<BrokerChoice>, PlaceChoice {
  demo?: boolean;
  cots: number;
  pagePort: number;
  address?: string;
  signIn?: string;
  signInClient: string;
  signInSecretFile?: string;
  rolesClaim: string;
}

export const boardCommand = (options: BoardOptions): Promise<never> =>
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
  const { broker, address: reachedAt } = options;
  if (broker === undefined)
    throw new PlainError(
      'board-what',
      'A board needs a broker to hear the sleeves of its room from.',
      'Give --broker, --site and --room; or try it with invented cots: ebbline board --demo.',
    );
  if (reachedAt !== undefined && options.signIn === undefined)
    throw new PlainError(
      'board-open',
      'Over a network everybody could see the room.',
      'Let people sign in: --sign-in ISSUER; or leave --address out, for this computer alone.',
    );
  const { address, place } = brokerAndPlace({ ...options, broker });
  const people = await signInOf(options);
  const { store, folder } = await openKept({});
  return untilStopped(async (closing, greet) => {
    closing.push(() => store.close());
    const source = brokerSource({ address, place, id: newId(), say: warn });
    const ward = wardBoard(store, source, { ...place, zone: familyZone(store).zone, nowMs: Date.now });
    closing.push(() => ward.board.close());
    const server = await served(options, {
      ...{ view$: ward.board.view$, ward: ward.service },
      ...(people && { people }),
      ...(reachedAt !== undefined && { address: reachedAt }),
    });
    closing.push(() => server.close());
    greet([
      `The board shows room "${place.room}" of site "${place.site}", as heard from ${address.label}.`,
      `Children, labels and the trail are kept in ${folder}.`,
      ...greetingEnd(options, server),
    ]);
  });
}

const served = ({ pagePort }: BoardOptions, shown: Omit<BoardServerOptions, 'port' | 'webFolder'>) =>
  createBoardServer({ ...shown, webFolder: webFolder(), port: pagePort });

const greetingEnd = ({ address }: BoardOptions, { url }: { url: string }): string[] => [
  `Page for the tablet:     ${address ?? url}`,
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
  const refused = (what: string, remedy: string, cause?: unknown): PlainError =>
    new PlainError('sign-in-secret', what, remedy, { cause });
  try {
    const secret =
      file === undefined ? process.env.EBBLINE_SIGN_IN_SECRET : readFileSync(file, 'utf8').trim();
    if (secret) return secret;
  } catch (cause) {
    throw refused(
      `The secret of the sign-in cannot be read from ${file} (${cause instanceof Error ? cause.message : cause}).`,
      'Check its name and that you may read it.',
      cause,
    );
  }
  throw refused(
    'The sign-in needs a secret, and none was given.',
    'Put it in a file and name that with --sign-in-secret-file, or in EBBLINE_SIGN_IN_SECRET.',
  );
}
