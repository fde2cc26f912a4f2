/** The storing side: opens the store as soon as possible and queues what comes before. A dead store delays only this side. */
import { PlainError } from '../../../base/errors.ts';
import { SOFTWARE_VERSION } from '../../../base/version.ts';
import type { FeedStore } from '../../../store/feed-store.ts';
import { openStore } from '../../../store/open-store.ts';
import { type DatabaseChoice, isDatabaseUrl } from '../../../store/postgres/address.ts';
import { openStoreAt } from '../../../store/postgres/postgres-store.ts';
import type { WardRecords } from '../../../store/ward/ward-records.ts';
import { bindingOf } from './sleeve-bindings.ts';
import type { FromStore, SleeveBinding, ToStore } from './store-ops.ts';
import { type QueueAnswers, StoreQueue } from './store-queue.ts';

/** A folder of this computer, or a database server. */
export interface StoreChoice extends DatabaseChoice {
  /** All sleeves are simulated. */
  simulated: boolean;
}

export interface StoreSide {
  take(message: ToStore): void;
}

const TRY_AGAIN_MS = 1000;

export function openChosenStore(choice: StoreChoice): FeedStore {
  const options = { recording: true, softwareVersion: SOFTWARE_VERSION, packsLater: true };
  return isDatabaseUrl(choice.database) ? openStoreAt(choice, options) : openStore(choice.database, options);
}

/**
 * @param answer  sends a message to the guiding side
 * @param open  opens the store; tried again until it works
 */
export function storeSide(
  choice: StoreChoice,
  answer: (message: FromStore) => void,
  open: (choice: StoreChoice) => FeedStore = openChosenStore,
): StoreSide {
  let store: FeedStore | null = null;
  let queue: StoreQueue | null = null;
  let early: Extract<ToStore, { kind: 'keep' }>['ops'] = [];
  let timer: NodeJS.Timeout | null = null;
  const plainly = (error: unknown): { code: string; text: string } => {
    if (!(error instanceof PlainError)) throw error;
    return { code: error.code, text: error.text };
  };
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
    queue = new StoreQueue(store, {
      kept: (feedId, upTo) => answer({ kind: 'kept', feedId, upTo }),
      behind: (feedId) => answer({ kind: 'behind', feedId }),
      trouble: (trouble) => answer({ kind: 'trouble', trouble }),
      ...labelsAt(store),
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
  const tellBindings = ({ ask, sleeveNumbers }: Extract<ToStore, { kind: 'bindings' }>): void => {
    try {
      if (!store) throw notOpen();
      const { simulated } = choice;
      const of = store;
      const bindings = sleeveNumbers.map((number): [number, SleeveBinding | null] => [
        number,
        bindingOf(of, number, simulated, Date.now),
      ]);
      answer({ kind: 'bindings', ask, bindings });
    } catch (error) {
      answer({ kind: 'unasked', ask, trouble: plainly(error) });
    }
  };
  work();
  return {
    take(message) {
      switch (message.kind) {
        case 'keep':
          if (queue) queue.add(message.ops);
          else early.push(...message.ops);
          return work();
        case 'bindings':
          return tellBindings(message);
        case 'close':
          if (timer) clearTimeout(timer);
          store?.close();
          answer({ kind: 'closed' });
      }
    },
  };
}

/** A binding by labels is for one feed; an error in recording that must not stop the feed. */
function labelsAt(store: FeedStore): Pick<QueueAnswers, 'begun' | 'over'> {
  const sleeves = new Map<string, number>();
  const say = (does: (records: WardRecords) => void): void => {
    try {
      store.ward(({ records }) => does(records));
    } catch (error) {
      if (!(error instanceof PlainError)) throw error;
    }
  };
  return {
    begun({ id, sleeveId }) {
      sleeves.set(id, Number(sleeveId));
      say((records) => records.nameFeed(Number(sleeveId), id));
    },
    over(feedId) {
      const sleeve = sleeves.get(feedId);
      sleeves.delete(feedId);
      if (sleeve !== undefined) say((records) => records.feedOver(sleeve, Date.now()));
    },
  };
}

const notOpen = (): PlainError =>
  new PlainError(
    'store-not-open',
    'The store could not be opened yet.',
    'It is tried again each second; what is the matter is said beside this.',
  );
