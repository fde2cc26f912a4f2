/**
 * The calibration's check at every feed, beside the live feed: hears the same bytes, looks at each hold at rest, tells the page before a
 * feed, and keeps what it found and what the feed taught. The feed and its replay know nothing of it.
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
  type CalibrationNotes,
  learnedCalibration,
  notesFrom,
  notesOf,
  withCheck,
  withLesson,
  withNotes,
} from '../../calibration/walk/notes.ts';
import { createRestingWatch, stepResting } from '../../calibration/walk/resting.ts';
import type { LiveFeed } from '../../feed/live/live.ts';
import type { CalibrationDoubt, LiveView } from '../../feed/live/live-view.ts';
import type { Calibration } from '../../sensing/index.ts';
import type { FeedStore } from '../../store/feed-store.ts';

/** Where the notes are kept. */
export type NotesStore = Pick<FeedStore, 'readCalibrationNotes' | 'writeCalibrationNotes'>;

export interface KeptNotes {
  read(): CalibrationNotes;
  /** A full disk loses a note, never a feed. */
  write(notes: CalibrationNotes): void;
}

/** The notes of one sleeve with one calibration, as it was made. */
export function keptNotes(store: NotesStore, sleeveId: string, calibration: Calibration): KeptNotes {
  return {
    read: () => notesOf(notesFrom(store.readCalibrationNotes()), sleeveId, calibration),
    write: (notes) => keepNotes(store, notes),
  };
}

/** In the place of those before. */
export function keepNotes(store: NotesStore, notes: CalibrationNotes): void {
  try {
    store.writeCalibrationNotes(withNotes(notesFrom(store.readCalibrationNotes()), notes));
  } catch (error) {
    if (!(error instanceof PlainError)) throw error;
  }
}

export interface CheckedFeedOptions {
  link: Pick<SleeveLink, 'bytes$'>;
  /** As it was made; what feeds have taught is in the notes. */
  calibration: Calibration;
  notes: KeptNotes;
  /** The notes of another sleeve, once that one is there. */
  notesOf?: (sleeveId: string, calibration: Calibration) => KeptNotes;
  /** Whether feeds may teach about the bottle: not with water and a doll, not in simulation. */
  learns: boolean;
  wallNowMs: () => number;
}

export interface CheckedFeed extends LiveFeed {
  /** Checks no more; the live feed goes on. */
  stopChecking(): void;
}

/** The same live feed, each view with what the check has found: in a feed only what makes its cues doubtful. */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: bytes and views meet in the same state
export function checkedFeeds(live: LiveFeed, options: CheckedFeedOptions): CheckedFeed {
  const { link, wallNowMs } = options;
  let { notes, calibration: made } = options;
  let { calibration } = learnedCalibration(made, notes.read());
  let watch = createRestingWatch(calibration);
  const scanner = createScanner();
  let timeline = TIMELINE_START;
  let check = FEED_CHECK_START;
  let opinion: CheckOpinion | null = null;
  // Until this sleeve has rested once, the last check of the time before counts.
  let told: Pick<CheckOpinion, 'verdict' | 'finding'> | null = notes.read().checks.at(-1) ?? null;
  let view: LiveView | null = null;

  const note = (feedId: string | null): void => {
    if (!opinion) return;
    try {
      const kept = withCheck(notes.read(), opinion, { atMs: wallNowMs(), feedId });
      notes.write(
        feedId !== null && options.learns
          ? withLearned(kept, { calibration: made, wallNowMs }, check.bottleHolds, feedId)
          : kept,
      );
    } catch (error) {
      // Notes that cannot be read now are a note less, as `write` has it; the feed goes on.
      if (!(error instanceof PlainError)) throw error;
    }
  };
  const takeView = (next: LiveView): void => {
    const ended = view?.feedState === 'open' && next.feedState !== 'open';
    view = next;
    if (!ended) return;
    if (next.feedState === 'ended') note(next.feedId);
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
        if (changed && view?.feedState !== 'open') note(null);
      },
    });

  const heard = link.bytes$.subscribe(takeBytes);
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
    /** @param sleeve  with its calibration as it was made */
    changeSleeve(sleeve) {
      if (sleeve === null) return live.changeSleeve(null);
      if (!options.notesOf) throw new Error('whoever changes the sleeve must know where its notes are');
      const next = options.notesOf(sleeve.sleeveId, sleeve.calibration);
      const learned = learnedCalibration(sleeve.calibration, next.read()).calibration;
      // The feed before is over before its check begins anew.
      live.changeSleeve({ ...sleeve, calibration: learned });
      made = sleeve.calibration;
      notes = next;
      calibration = learned;
      watch = createRestingWatch(calibration);
      check = FEED_CHECK_START;
      opinion = null;
      told = notes.read().checks.at(-1) ?? null;
    },
    stop() {
      live.stop();
      stopChecking();
    },
    stopChecking,
  };
}

function withLearned(
  notes: CalibrationNotes,
  { calibration: made, wallNowMs }: Pick<CheckedFeedOptions, 'calibration' | 'wallNowMs'>,
  holds: Parameters<typeof learnFromHolds>[1],
  feedId: string,
): CalibrationNotes {
  // With what feeds before taught, also since this watch began.
  const { calibration } = learnedCalibration(made, notes);
  const lesson = learnFromHolds(calibration, holds, notes.belief ?? undefined);
  if (!lesson) return notes;
  return withLesson(notes, made, lesson, { learnedAt: new Date(wallNowMs()).toISOString(), feedId });
}

/** In a feed nobody calibrates; that cues may be wrong is said there too. */
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
