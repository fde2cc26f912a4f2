/**
 * The calibration check at every feed, beside the live feed: it reads the same bytes, evaluates each hold at rest, informs the page, and
 * stores its results and what was learned. The feed itself and its replay do not depend on it.
 */
import { map } from 'rxjs';
import type { SleeveLink } from '../../../firmware-bridge/links/link.ts';
import { createScanner, scan, stepTimeline, TIMELINE_START } from '../../../firmware-bridge/wire/index.ts';
import { PlainError } from '../../base/errors.ts';
import {
  type CheckOpinion,
  FEED_CHECK_START,
  opinionOf,
  stepFeedCheck,
} from '../../calibration/check/feed-check.ts';
import { learnFromHolds } from '../../calibration/fit/learned.ts';
import {
  type CalibrationHistory,
  historiesFrom,
  historyOf,
  learnedCalibration,
  withCheck,
  withHistory,
  withLesson,
} from '../../calibration/walk/history.ts';
import { createRestingWatch, stepResting } from '../../calibration/walk/resting.ts';
import type { LiveFeed } from '../../feed/live/live.ts';
import type { LiveView } from '../../feed/live/live-view.ts';
import type { CalibrationDoubt } from '../../pacing/cues/words-calibration.ts';
import type { Calibration } from '../../sensing/index.ts';
import type { FeedStore } from '../../store/feed-store.ts';

/** Where the histories are stored. */
export type HistoryStore = Pick<FeedStore, 'readCalibrationHistories' | 'writeCalibrationHistories'>;

export interface KeptHistory {
  read(): CalibrationHistory;
  /** A full disk loses an entry, never a feed. */
  write(history: CalibrationHistory): void;
}

/** The history of one sleeve's calibration. */
export function keptHistory(store: HistoryStore, sleeveId: string, calibration: Calibration): KeptHistory {
  return {
    read: () => historyOf(historiesFrom(store.readCalibrationHistories()), sleeveId, calibration),
    write: (history) => keepHistory(store, history),
  };
}

/** Stores a history in place of the one before. */
export function keepHistory(store: HistoryStore, history: CalibrationHistory): void {
  try {
    store.writeCalibrationHistories(withHistory(historiesFrom(store.readCalibrationHistories()), history));
  } catch (error) {
    if (!(error instanceof PlainError)) throw error;
  }
}

export interface CheckedFeedOptions {
  link: Pick<SleeveLink, 'bytes$'>;
  /** Without learned corrections, which are in the history. */
  calibration: Calibration;
  history: KeptHistory;
  /** Gives the history of another sleeve, when the sleeve is changed. */
  historyOf?: (sleeveId: string, calibration: Calibration) => KeptHistory;
  /** Whether corrections may be learned from feeds: not with water and a doll, not in simulation. */
  learns: boolean;
  wallNowMs: () => number;
  /** Called with an error of the program in the check; absent: it ends the program. */
  onFault?: (error: unknown) => void;
}

export interface CheckedFeed extends LiveFeed {
  /** Ends the check; the live feed goes on. */
  stopChecking(): void;
}

/** The live feed with the check's result added to each view; during a feed only results that make its cues doubtful. */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: bytes and views meet in the same state
export function checkedFeeds(live: LiveFeed, options: CheckedFeedOptions): CheckedFeed {
  const { link, wallNowMs } = options;
  let { history, calibration: made } = options;
  let { calibration } = learnedCalibration(made, history.read());
  let watch = createRestingWatch(calibration);
  const scanner = createScanner();
  let timeline = TIMELINE_START;
  let check = FEED_CHECK_START;
  let opinion: CheckOpinion | null = null;
  // Until this sleeve has rested once, the last stored check is shown.
  let told: Pick<CheckOpinion, 'verdict' | 'finding'> | null = history.read().checks.at(-1) ?? null;
  let view: LiveView | null = null;

  const record = (feedId: string | null): void => {
    if (!opinion) return;
    try {
      const kept = withCheck(history.read(), opinion, { atMs: wallNowMs(), feedId });
      history.write(
        feedId !== null && options.learns
          ? withLearned(kept, { calibration: made, wallNowMs }, check.bottleHolds, feedId)
          : kept,
      );
    } catch (error) {
      // A history that cannot be read now loses one entry, as with `write`; the feed goes on.
      if (!(error instanceof PlainError)) throw error;
    }
  };
  const takeView = (next: LiveView): void => {
    const ended = view?.feedState === 'open' && next.feedState !== 'open';
    view = next;
    if (!ended) return;
    if (next.feedState === 'ended') record(next.feedId);
    check = { ...check, bottleHolds: [] };
  };
  const takeBytes = (bytes: Uint8Array): void =>
    scan(scanner, bytes, {
      sample(sample) {
        const step = stepTimeline(timeline, sample);
        timeline = step.timeline;
        const hold = step.timed && stepResting(watch, step.timed, !view?.teatInMouth);
        if (!hold) return;
        check = stepFeedCheck(check, calibration, hold, {
          nowIso: new Date(wallNowMs()).toISOString(),
          portionMl: view?.feedState === 'open' ? null : (view?.setup.portionMl ?? null),
        });
        opinion = opinionOf(check);
        if (!opinion) return;
        const changed = opinion.verdict !== told?.verdict;
        told = opinion;
        if (changed && view?.feedState !== 'open') record(null);
      },
    });

  const heard = link.bytes$.subscribe((bytes) => {
    try {
      takeBytes(bytes);
    } catch (error) {
      if (!options.onFault) throw error;
      options.onFault(error);
    }
  });
  const seen = live.view$.subscribe(takeView);
  const stopChecking = (): void => {
    heard.unsubscribe();
    seen.unsubscribe();
  };
  return {
    view$: live.view$.pipe(
      map((next) => ({ ...next, calibration: toldNow(doubtOf(told), next.feedState === 'open') })),
    ),
    command: (command) => live.command(command),
    keepRest: () => live.keepRest(),
    /** @param sleeve  with its calibration without learned corrections */
    changeSleeve(sleeve) {
      if (sleeve === null) return live.changeSleeve(null);
      if (!options.historyOf)
        throw new Error('whoever changes the sleeve must say where the histories of calibrations are');
      const next = options.historyOf(sleeve.sleeveId, sleeve.calibration);
      const learned = learnedCalibration(sleeve.calibration, next.read()).calibration;
      // End the old feed before its check is reset.
      live.changeSleeve({ ...sleeve, calibration: learned });
      made = sleeve.calibration;
      history = next;
      calibration = learned;
      watch = createRestingWatch(calibration);
      check = FEED_CHECK_START;
      opinion = null;
      told = history.read().checks.at(-1) ?? null;
    },
    stop() {
      live.stop();
      stopChecking();
    },
    stopChecking,
  };
}

function withLearned(
  history: CalibrationHistory,
  { calibration: made, wallNowMs }: Pick<CheckedFeedOptions, 'calibration' | 'wallNowMs'>,
  holds: Parameters<typeof learnFromHolds>[1],
  feedId: string,
): CalibrationHistory {
  // With all corrections learned so far.
  const { calibration } = learnedCalibration(made, history);
  const lesson = learnFromHolds(calibration, holds, history.belief ?? undefined);
  if (!lesson) return history;
  return withLesson(history, made, lesson, { learnedAt: new Date(wallNowMs()).toISOString(), feedId });
}

/** During a feed only doubts that may make cues wrong are shown, since nobody calibrates then. */
const toldNow = (doubt: CalibrationDoubt | null, inFeed: boolean): CalibrationDoubt | null =>
  inFeed && doubt !== 'zero-far' && doubt !== 'other-bottle' ? null : doubt;

function doubtOf(told: Pick<CheckOpinion, 'verdict' | 'finding'> | null): CalibrationDoubt | null {
  switch (told?.finding) {
    case 'zero':
      return told.verdict === 'again' ? 'zero-far' : 'zero-moved';
    case 'bottle':
      return 'other-bottle';
    case 'amount':
      return 'amount-differs';
    case 'due':
      return 'check-due';
    default:
      return null;
  }
}
