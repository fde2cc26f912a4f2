/**
 * An open feed as data, so that another process goes on with it as if nothing had happened: from a picture and the sleeve's bytes after it come the same
 * rows and cues. Pure.
 */
import type { CueKind } from '../../pacing/cues/cue.ts';
import type { Reason } from '../../pacing/cues/reason.ts';
import { createEngine } from '../engine.ts';
import { type EngineSnapshot, engineFrom, snapshotOf } from '../engine-snapshot.ts';
import type { FeedEvent, FeedSummary } from '../record/feed.ts';
import { type Handed, holdFeed, NOTHING_HANDED } from '../record/held.ts';
import { createRecorder, type OpenFeed, type Recorder, type RecorderOptions } from './recorder.ts';

export interface FeedSnapshot {
  summary: FeedSummary;
  /** Null: as it was before its first byte. */
  engine: EngineSnapshot | null;
  /** The sleeve's time in the feed, seconds: what was noted later is to be heard again. */
  atSec: number;
  /** What its storage had been handed of it. */
  handed: Handed;
  lastRowSec: number;
  firstLatchSec: number | null;
  lastTeatSec: number;
  openedSec: number;
  withheld: boolean;
  caregiverNow?: string | null;
  because: Partial<Record<CueKind, Reason>>;
}

/** The open feed as it began: its capture from the first byte on makes all of it again. */
export const snapshotAtStart = ({ held, openedSec }: OpenFeed): FeedSnapshot => ({
  summary: held.summary,
  engine: null,
  atSec: 0,
  handed: NOTHING_HANDED,
  lastRowSec: Number.NEGATIVE_INFINITY,
  firstLatchSec: null,
  lastTeatSec: openedSec,
  openedSec,
  withheld: held.part.events.some(({ kind }) => kind === 'cues-withheld'),
  because: {},
});

/**
 * The open feed as it is, all of it handed to its storage; its parts are the feed's own: serialize them before it goes on.
 * @returns null while the storage has not taken all
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
    atSec: engine.timeline.atMicros / 1e6,
    handed: held.handed,
    lastRowSec,
    firstLatchSec,
    lastTeatSec,
    openedSec,
    withheld,
    ...(caregiverNow !== undefined && { caregiverNow }),
    because,
  };
}

/**
 * @param noted  all that was noted of the feed, also after the picture
 * @returns a recorder in which the feed is open; the bytes after the picture are to follow
 */
export function resumeRecorder(
  options: RecorderOptions,
  picture: FeedSnapshot,
  noted: readonly FeedEvent[],
): Recorder {
  const recorder = createRecorder(options);
  const { summary, atSec, engine, handed, because, ...rest } = picture;
  const { calibration } = options;
  const held = holdFeed(calibration, summary);
  held.handed = handed;
  held.begun = true;
  const earlier = noted.filter((event) => engine !== null && event.atSec <= atSec);
  recorder.feed = {
    ...rest,
    engine: engine
      ? engineFrom(calibration, engine)
      : createEngine({ calibration, portionMl: summary.setup.portionMl, refinable: false, ...summary.ran }),
    held,
    endAsked: false,
    noted: [...earlier],
    toRepeat: noted.slice(earlier.length),
  };
  recorder.setup = summary.setup;
  recorder.lastHeld = held;
  recorder.because = because;
  return recorder;
}
