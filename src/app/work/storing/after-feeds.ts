/**
 * Work that belongs to a feed beside its rows: its bound labels and its study; and after its end the refined pass, packing its capture,
 * and the rest of its bottle in the milk ledger. None of it can delay a feed; what fails is tried again.
 */
import { PlainError } from '../../../base/errors.ts';
import type { FeedSummary } from '../../../feed/record/feed.ts';
import type { FeedStore } from '../../../store/feed-store.ts';
import type { WardRecords } from '../../../store/ward/ward-records.ts';
import type { Aside } from '../../aside/aside.ts';
import { settling } from '../../kept/settling.ts';
import { STUDY_CLOCK, StudyFolder, studiesAmong } from '../../study/study-folder.ts';
import { enterFedMilk } from '../../ward/milk-of-bottles.ts';
import type { QueueAnswers } from './store-queue.ts';

/** A feed that nobody continues for this long is over: relays store its bytes for eight hours. */
const ABANDONED_MS = 24 * 3600_000;

export interface AfterFeeds extends Pick<QueueAnswers, 'begun' | 'over'> {
  /** To be called from time to time: repeats what failed, and does what a process that is gone has left. */
  look(): void;
  /** To be called before the store is closed. */
  close(): void;
}

export interface AfterFeedsOptions {
  /** Does the heavy work; null: feeds are neither refined nor packed here. */
  aside: Pick<Aside, 'run'> | null;
  nowMs: () => number;
  say: (text: string) => void;
}

export function afterFeeds(store: FeedStore, { aside, nowMs, say }: AfterFeedsOptions): AfterFeeds {
  const sleeves = new Map<string, number>();
  const unbound = new Map<string, FeedSummary>();
  const under = new Set<string>();
  const enterMilk = (feedId: string): void =>
    void tried(
      () => enterFedMilk(store, feedId, nowMs()),
      (text) => say(`What the bottle of the feed ${feedId} holds is not in the milk ledger: ${text}`),
    );
  let isClosed = false;
  const settled = (feedId: string): void => {
    under.delete(feedId);
    if (!isClosed) enterMilk(feedId);
  };
  // A result that comes after the end is ignored.
  const whileOpen: Parameters<typeof settling>[0] = {
    get: (feedId) => (isClosed ? null : store.get(feedId)),
    refine: (feedId, refined) => isClosed || store.refine(feedId, refined),
    settlePacked: (feedId, packed) => isClosed || store.settlePacked(feedId, packed),
  };
  const after = aside && settling(whileOpen, aside, settled);
  const settle = (feedId: string): void => {
    if (under.has(feedId)) return;
    under.add(feedId);
    if (after) after.settle(feedId);
    else settled(feedId);
  };
  const ward = (does: (records: WardRecords) => void): void =>
    void tried(() => store.ward(({ records }) => does(records)));
  const bindSession = (feed: FeedSummary): void => {
    const { study, participant } = feed.setup;
    if (!study || !participant) return;
    const isBound = tried(
      () => void StudyFolder.open(studiesAmong(store.files), study, STUDY_CLOCK).bind(feed.id, participant),
      (text) => {
        if (!unbound.has(feed.id)) say(`The feed ${feed.id} is not bound to study ${study} yet: ${text}`);
      },
      'session-twice',
    );
    if (isBound) unbound.delete(feed.id);
    else unbound.set(feed.id, feed);
  };
  return {
    begun(feed) {
      sleeves.set(feed.id, Number(feed.sleeveId));
      ward((records) => records.nameFeed(Number(feed.sleeveId), feed.id));
      bindSession(feed);
    },
    over(feedId) {
      const sleeve = sleeves.get(feedId);
      sleeves.delete(feedId);
      if (sleeve !== undefined) ward((records) => records.feedOver(sleeve, nowMs()));
      settle(feedId);
    },
    look() {
      for (const feed of unbound.values()) bindSession(feed);
      tried(() => {
        for (const { id, startedAtMs } of store.unfinished())
          if (startedAtMs < nowMs() - ABANDONED_MS) store.recover(id, null);
        if (aside) for (const feedId of store.unsettled()) settle(feedId);
      });
    },
    close() {
      isClosed = true;
    },
  };
}

/** @param otherwise  called with a refusal @param isDone  whether a refusal means that it was done already @returns whether it is done */
function tried(act: () => void, otherwise: (text: string) => void = () => {}, isDone = ''): boolean {
  try {
    act();
    return true;
  } catch (error) {
    if (!(error instanceof PlainError)) throw error;
    if (error.code === isDone) return true;
    otherwise(error.text);
    return false;
  }
}
