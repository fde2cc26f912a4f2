/** Starts the side that keeps: a thread of its own, so that a slow or dead database holds up nobody who is guided; started again should it be lost. */
import { parentPort, Worker, workerData } from 'node:worker_threads';
import { monotonic } from '../../../../firmware-bridge/links/monotonic.ts';
import {
  type DatabaseChoice,
  databaseAddress,
  isDatabaseUrl,
  surroundingsFor,
} from '../../../store/postgres/address.ts';
import { type Aside, createAside } from '../../aside/aside.ts';
import { type KeepingChoice, keepingSide, openKeepingStore } from './keeping-thread.ts';
import { KeptFront } from './kept-front.ts';
import type { ForKeeping, FromKeeping } from './kept-ops.ts';

const START_AGAIN_MS = 1000;

export interface Keeping {
  front: KeptFront;
  close(): Promise<void>;
}

export interface KeepingStart {
  /** The built program; from source, which threads of this Node do not read, all is done in this one. */
  program?: string;
  onFault: (fault: string) => void;
}

export function startKeeping(
  choice: KeepingChoice,
  { program = process.argv[1]!, onFault }: KeepingStart,
): Keeping {
  let take: (message: ForKeeping) => void = () => {};
  const front = new KeptFront(
    (message) => take(message),
    () => monotonic.now(),
  );
  if (program.endsWith('.ts')) {
    const side = sideOf(choice, (message) => front.hear(message));
    take = (message) => side.take(message);
    return { front, close: () => front.close() };
  }
  let thread: Worker | null = null;
  let isClosing = false;
  const start = (): void => {
    const started = new Worker(program, { argv: ['keeping-thread'], workerData: choice });
    thread = started;
    started.on('message', (message: FromKeeping) => front.hear(message));
    started.on('error', (error) => onFault(String(error)));
    started.on('exit', () => {
      if (isClosing) return;
      setTimeout(() => {
        start();
        front.startAgain();
      }, START_AGAIN_MS);
    });
  };
  take = (message) => thread?.postMessage(message);
  start();
  return {
    front,
    async close() {
      isClosing = true;
      await front.close();
      await thread?.terminate();
    },
  };
}

/** With a process of its own, at the lowest priority, for what is heavy after a feed; it is there only while it has something to do. */
const sideOf = (choice: KeepingChoice, answer: (message: FromKeeping) => void) =>
  keepingSide(choice, answer, openKeepingStore, asideOf(choice));

function asideOf(choice: DatabaseChoice): Aside {
  const { database } = choice;
  const env = isDatabaseUrl(database) ? surroundingsFor(choice, databaseAddress(choice)) : process.env;
  return createAside({ folder: database, env });
}

/** The thread's side. */
export function serveKeepingThread(): void {
  const choice: KeepingChoice = workerData;
  const side = sideOf(choice, (message) => parentPort!.postMessage(message));
  parentPort!.on('message', (message: ForKeeping) => side.take(message));
}
