/**
 * An open feed as data, so that another process can continue it: the snapshot and the sleeve's bytes after it give the same rows and cues. Pure.
 */
import type { CueKind } from '../../pacing/cues/cue.ts';
import type { Reason } from '../../pacing/cues/reason.ts';
import { createEngine } from '../engine.ts';
import { type EngineSnapshot, engineFrom, snapshotOf } from '../engine-snapshot.ts';
import type { FeedEvent, FeedSummary, ToldCue } from '../record/feed.ts';
import { type Handed, holdFeed, NOTHING_HANDED } from '../record/held.ts';
import { createRecorder, type OpenFeed, type Recorder, type RecorderOptions } from './recorder.ts';

export interface FeedSnapshot {
  summary: FeedSummary;
  /** Null: the state before the first byte. */
  engine: EngineSnapshot | null;
  /** How much of it the storage has taken. */
  handed: Handed;
  /** Number of host events before it; later ones are repeated. Not told by their times: a link is lost at the time of the last sample. */
  notedBefore: number;
  lastRowSec: number;
  firstLatchSec: number | null;
  lastTeatSec: number;
  openedSec: number;
  withheld: boolean;
  caregiverNow?: string | null;
  because: Partial<Record<CueKind, Reason>>;
}

/** The open feed at its start: replaying its capture from the first byte gives all of it. */
export const snapshotAtStart = ({ held, openedSec }: OpenFeed): FeedSnapshot => ({
  summary: held.summary,
  engine: null,
  handed: NOTHING_HANDED,
  notedBefore: 0,
  lastRowSec: Number.NEGATIVE_INFINITY,
  firstLatchSec: null,
  lastTeatSec: openedSec,
  openedSec,
  withheld: held.part.events.some(({ kind }) => kind === 'cues-withheld'),
  because: {},
});

/**
 * The open feed now. Everything before it must be stored, and its parts are not copied: serialize them before the feed runs on.
 * @returns null while the storage has not taken everything
 */
export function feedSnapshot({ feed, because }: Recorder): FeedSnapshot | null {
  if (!feed || feed.toRepeat.length > 0) return null;
  const { held, engine, lastRowSec, firstLatchSec, lastTeatSec, openedSec, withheld, caregiverNow } = feed;
  const { rows, cues, told, events } = held.part;
  const isHeld = rows.length + cues.length + told.length + events.length + held.heldBytes > 0;
  if (isHeld || !held.begun || held.lostBytes > 0) return null;
  return {
    summary: held.summary,
    engine: snapshotOf(engine),
    handed: held.handed,
    notedBefore: feed.noted.length,
    lastRowSec,
    firstLatchSec,
    lastTeatSec,
    openedSec,
    withheld,
    ...(caregiverNow !== undefined && { caregiverNow }),
    because,
  };
}

/** All host events of an open feed, also those of another process that are still to be repeated: they are later than the others. */
export const allNoted = ({ noted, toRepeat }: OpenFeed): FeedEvent[] => [...noted, ...toRepeat];

/**
 * @param noted  all host events of the feed, also those after the snapshot
 * @param told  all that a caregiver was shown in it; what the storage may not have of it is handed over again
 * @returns a recorder in which the feed is open; feed it the bytes after the snapshot
 */
export function resumeRecorder(
  options: RecorderOptions,
  picture: FeedSnapshot,
  noted: readonly FeedEvent[],
  told: readonly ToldCue[] = [],
): Recorder {
  const recorder = createRecorder(options);
  const { summary, engine, handed, notedBefore, because, ...rest } = picture;
  const { calibration } = options;
  const held = holdFeed(calibration, summary);
  held.handed = handed;
  held.begun = true;
  held.part.told = told.slice(handed.told);
  recorder.feed = {
    ...rest,
    engine: engine
      ? engineFrom(calibration, engine)
      : createEngine({ calibration, portionMl: summary.setup.portionMl, refinable: false, ...summary.ran }),
    held,
    endAsked: false,
    noted: noted.slice(0, notedBefore),
    toRepeat: noted.slice(notedBefore),
    told: [...told],
  };
  recorder.setup = summary.setup;
  recorder.lastHeld = held;
  recorder.because = because;
  return recorder;
}
