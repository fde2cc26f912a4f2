/** The storing side: opens the store as soon as possible and queues what comes before. A dead store delays only this side. */
import { PlainError } from '../../../base/errors.ts';
import { SOFTWARE_VERSION } from '../../../base/version.ts';
import type { Trouble } from '../../../feed/record/pending-writes.ts';
import type { FeedStore } from '../../../store/feed-store.ts';
import { openStore } from '../../../store/open-store.ts';
import { type DatabaseChoice, isDatabaseUrl } from '../../../store/postgres/address.ts';
import { openStoreAt } from '../../../store/postgres/postgres-store.ts';
import type { Aside } from '../../aside/aside.ts';
import { keepHistory } from '../../sleeve/checked-feeds.ts';
import type { MilkOfBindings } from '../../ward/next-setup.ts';
import { type AfterFeeds, afterFeeds } from './after-feeds.ts';
import { latestFeedOf } from './latest-feed.ts';
import { bindingsNow } from './sleeve-bindings.ts';
import type { FromStore, SleeveBinding, ToStore } from './store-ops.ts';
import { StoreQueue } from './store-queue.ts';

/** A folder of this computer, or a database server. */
export interface StoreChoice extends DatabaseChoice {
  /** All sleeves are simulated. */
  simulated: boolean;
}

export interface StoreSide {
  take(message: ToStore): void;
}

const TRY_AGAIN_MS = 1000;
const LOOK_MS = 60_000;

export function openChosenStore(choice: StoreChoice): FeedStore {
  const options = { recording: true, softwareVersion: SOFTWARE_VERSION, packsLater: true };
  return isDatabaseUrl(choice.database) ? openStoreAt(choice, options) : openStore(choice.database, options);
}

/**
 * @param answer  sends a message to the guiding side
 * @param open  opens the store; tried again until it works
 * @param aside  makes refined passes and packs captures; null: neither is done here
 */
export function storeSide(
  choice: StoreChoice,
  answer: (message: FromStore) => void,
  open: (choice: StoreChoice) => FeedStore = openChosenStore,
  aside: Aside | null = null,
): StoreSide {
  let store: FeedStore | null = null;
  let queue: StoreQueue | null = null;
  let after: AfterFeeds | null = null;
  let early: Extract<ToStore, { kind: 'keep' }>['ops'] = [];
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
    queue = new StoreQueue(store, {
      kept: (feedId, upTo) => answer({ kind: 'kept', feedId, upTo }),
      behind: (feedId) => answer({ kind: 'behind', feedId }),
      lost: (feedId) => answer({ kind: 'lost', feedId }),
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
          return answer(asked(store, message.ask, (open) => bindingsOf(open, choice, milk, message)));
        case 'latest-feed':
          return answer(asked(store, message.ask, (open) => latestOf(open, message)));
        case 'history':
          if (store) keepHistory(store, message.history);
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

/** An answer from the store, or why it cannot be asked. */
function asked(store: FeedStore | null, ask: number, look: (store: FeedStore) => FromStore): FromStore {
  try {
    if (!store) throw notOpen();
    return look(store);
  } catch (error) {
    return { kind: 'unasked', ask, trouble: plainly(error) };
  }
}

const latestOf = (
  store: FeedStore,
  { ask, sleeveNumber }: Extract<ToStore, { kind: 'latest-feed' }>,
): FromStore => ({ kind: 'latest-feed', ask, latest: latestFeedOf(store, sleeveNumber, Date.now()) });

/** Errors of the store itself: they concern every sleeve. */
const OF_THE_STORE = /^(store|database)-/;

/** A sleeve of which something cannot be read has no entry. @throws PlainError where that is so of all */
function bindingsOf(
  store: FeedStore,
  { simulated }: StoreChoice,
  milk: MilkOfBindings,
  { ask, sleeveNumbers }: Extract<ToStore, { kind: 'bindings' }>,
): FromStore {
  const bindings: [number, SleeveBinding | null][] = [];
  let refusal: PlainError | null = null;
  const bindingOf = bindingsNow(store, simulated, Date.now, milk);
  for (const number of sleeveNumbers) {
    try {
      bindings.push([number, bindingOf(number)]);
    } catch (error) {
      if (!(error instanceof PlainError) || OF_THE_STORE.test(error.code)) throw error;
      refusal ??= error;
    }
  }
  if (refusal && bindings.length === 0) throw refusal;
  return { kind: 'bindings', ask, bindings };
}

/** @throws other errors than PlainErrors */
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
