/** Starts the storing side in a thread of its own, so that a slow or dead database never delays guidance; it is restarted if it is lost. */
import { parentPort, Worker, workerData } from 'node:worker_threads';
import { monotonic } from '../../../../firmware-bridge/links/monotonic.ts';
import {
  type DatabaseChoice,
  databaseAddress,
  isDatabaseUrl,
  surroundingsFor,
} from '../../../store/postgres/address.ts';
import { type Aside, createAside } from '../../aside/aside.ts';
import { giveWayInThread } from '../../aside/give-way.ts';
import { StoreFront } from './store-front.ts';
import type { FromStore, ToStore } from './store-ops.ts';
import { openChosenStore, type StoreChoice, storeSide } from './store-side.ts';

const START_AGAIN_MS = 1000;

export interface StoreThread {
  front: StoreFront;
  close(): Promise<void>;
}

export interface StoreThreadOptions {
  /** The built program; from source all is done in this thread, since worker threads cannot run TypeScript. */
  program?: string;
  onFault: (fault: string) => void;
}

export function startStoreThread(
  choice: StoreChoice,
  { program = process.argv[1]!, onFault }: StoreThreadOptions,
): StoreThread {
  let take: (message: ToStore) => void = () => {};
  const front = new StoreFront(
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
    const started = new Worker(program, { argv: ['store-thread'], workerData: choice });
    thread = started;
    started.on('message', (message: FromStore) => front.hear(message));
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

/** Heavy work after a feed is done by a process of its own, at the lowest priority, which runs only while there is such work. */
const sideOf = (choice: StoreChoice, answer: (message: FromStore) => void) =>
  storeSide(choice, answer, openChosenStore, asideOf(choice));

function asideOf(choice: DatabaseChoice): Aside {
  const { database } = choice;
  const env = isDatabaseUrl(database) ? surroundingsFor(choice, databaseAddress(choice)) : process.env;
  return createAside({ folder: database, env });
}

/** Runs inside the thread. */
export function serveStoreThread(): void {
  // Cues do not wait for the store, so storing gives way to them where processors are short.
  giveWayInThread('somewhat');
  const choice: StoreChoice = workerData;
  const side = sideOf(choice, (message) => parentPort!.postMessage(message));
  parentPort!.on('message', (message: ToStore) => side.take(message));
}
