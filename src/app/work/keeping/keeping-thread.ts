/** The side that keeps feeds: a store, opened as soon as it can be, and whatever it is asked for meanwhile. A dead store holds up nobody but itself. */
import { PlainError } from '../../../base/errors.ts';
import { SOFTWARE_VERSION } from '../../../base/version.ts';
import type { Trouble } from '../../../feed/record/keeping.ts';
import { type FeedStore, openStore } from '../../../store/feed-store.ts';
import { type DatabaseChoice, isDatabaseUrl } from '../../../store/postgres/address.ts';
import { openStoreAt } from '../../../store/postgres/postgres-store.ts';
import type { Aside } from '../../aside/aside.ts';
import { keepNotes } from '../../sleeve/checked-feeds.ts';
import type { MilkOfBindings } from '../../ward/next-setup.ts';
import { type AfterFeeds, afterFeeds } from './after-feeds.ts';
import type { ForKeeping, FromKeeping, SleeveBinding } from './kept-ops.ts';
import { KeptQueue } from './kept-queue.ts';
import { bindingOf } from './sleeve-bindings.ts';

/** A folder of this computer, or a database server. */
export interface KeepingChoice extends DatabaseChoice {
  /** Simulated babies drink from all sleeves. */
  simulated: boolean;
}

export interface KeepingSide {
  take(message: ForKeeping): void;
}

const TRY_AGAIN_MS = 1000;
const LOOK_MS = 60_000;

export function openKeepingStore(choice: KeepingChoice): FeedStore {
  const options = { recording: true, softwareVersion: SOFTWARE_VERSION, packsLater: true };
  return isDatabaseUrl(choice.database) ? openStoreAt(choice, options) : openStore(choice.database, options);
}

/**
 * @param answer  tells the other side
 * @param open  opens the store; tried again while it cannot be
 * @param aside  makes refined passes and packs captures; null: neither is done here
 */
export function keepingSide(
  choice: KeepingChoice,
  answer: (message: FromKeeping) => void,
  open: (choice: KeepingChoice) => FeedStore = openKeepingStore,
  aside: Aside | null = null,
): KeepingSide {
  let store: FeedStore | null = null;
  let queue: KeptQueue | null = null;
  let after: AfterFeeds | null = null;
  let early: Extract<ForKeeping, { kind: 'keep' }>['ops'] = [];
  let timer: NodeJS.Timeout | null = null;
  const milk: MilkOfBindings = new Map();
  const later = (): void => {
    timer ??= setTimeout(() => {
      timer = null;
      work();
    }, TRY_AGAIN_MS);
  };
  const opened = (): boolean => {
    if (queue) return true;
    try {
      store = open(choice);
    } catch (error) {
      answer({ kind: 'trouble', trouble: plainly(error) });
      later();
      return false;
    }
    answer({ kind: 'open' });
    answer({ kind: 'trouble', trouble: null });
    after = afterFeeds(store, { aside, nowMs: Date.now, say: (text) => answer({ kind: 'said', text }) });
    after.look();
    queue = new KeptQueue(store, {
      kept: (feedId, upTo) => answer({ kind: 'kept', feedId, upTo }),
      behind: (feedId) => answer({ kind: 'behind', feedId }),
      trouble: (trouble) => answer({ kind: 'trouble', trouble }),
      ...after,
    });
    queue.add(early);
    early = [];
    return true;
  };
  const work = (): void => {
    if (!opened()) return;
    queue!.drain();
    if (!queue!.isEmpty) later();
  };
  work();
  const looking = setInterval(() => after?.look(), LOOK_MS).unref();
  return {
    take(message) {
      switch (message.kind) {
        case 'keep':
          if (queue) queue.add(message.ops);
          else early.push(...message.ops);
          return work();
        case 'bindings':
          return answer(bindingsOf(store, choice, milk, message));
        case 'notes':
          if (store) keepNotes(store, message.notes);
          return;
        case 'close':
          clearInterval(looking);
          after?.close();
          aside?.close();
          if (timer) clearTimeout(timer);
          store?.close();
          answer({ kind: 'closed' });
      }
    },
  };
}

/** What is bound to the sleeves that somebody asks for, or why that cannot be said. */
function bindingsOf(
  store: FeedStore | null,
  { simulated }: KeepingChoice,
  milk: MilkOfBindings,
  { ask, sleeveNumbers }: Extract<ForKeeping, { kind: 'bindings' }>,
): FromKeeping {
  try {
    if (!store) throw notOpen();
    const bindings = sleeveNumbers.map((number): [number, SleeveBinding | null] => [
      number,
      bindingOf(store, number, simulated, Date.now, milk),
    ]);
    return { kind: 'bindings', ask, bindings };
  } catch (error) {
    return { kind: 'unasked', ask, trouble: plainly(error) };
  }
}

/** @throws whatever is no refusal */
function plainly(error: unknown): Trouble {
  if (!(error instanceof PlainError)) throw error;
  return { code: error.code, text: error.text };
}

const notOpen = (): PlainError =>
  new PlainError(
    'store-not-open',
    'The store could not be opened yet.',
    'It is tried again each second; what is the matter is said beside this.',
  );
