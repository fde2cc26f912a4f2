/** Checks a data folder, and rebuilds feeds from their captures where the database lacks them. */
import * as fs from 'node:fs';
import { join } from 'node:path';
import { readCapture } from '../../../firmware-bridge/links/capture-file.ts';
import { PlainError } from '../../base/errors.ts';
import { createEngine, endEngine, refineEngine, runEngine } from '../../feed/engine.ts';
import type { FeedEvent, FeedRow } from '../../feed/record/feed.ts';
import { isRowDue } from '../../feed/replay.ts';
import type { KeptCue } from '../../pacing/cues/cue.ts';
import { parseCalibration } from '../../sensing/index.ts';
import { readSidecar } from '../../store/check/capture-sidecar.ts';
import { capturesIn, type Examined, examine, feedOf } from '../../store/check/examine.ts';
import type { RebuiltFeed } from '../../store/check/rebuild.ts';
import { rebuildInto } from '../../store/check/rebuild.ts';
import { DATABASE_FILE } from '../../store/data-folder.ts';
import { closeDatabase, openDatabase } from '../../store/database/database.ts';
import { plainly } from '../../store/faults.ts';
import { finishRestoreIfReady } from '../../store/portable/restore.ts';

/** Checks the folder. @param thorough  read each capture to its end @throws PlainError check-nothing, store-damaged … */
export function checkStore(folder: string, thorough: boolean): Examined {
  // After an interrupted restore the database may still have to be put in place.
  finishRestoreIfReady(folder);
  if (!fs.existsSync(join(folder, DATABASE_FILE))) {
    throw new PlainError(
      'check-nothing',
      `Nothing is kept in ${folder}.`,
      'For the feeds of the simulated sleeve add --simulated.',
    );
  }
  return plainly(folder, () => {
    const database = openDatabase(join(folder, DATABASE_FILE));
    try {
      return examine(folder, database, thorough);
    } finally {
      closeDatabase(database);
    }
  });
}

export interface Rebuilt {
  feeds: string[];
  /** Captures that could not be made into feeds, and why. */
  not: { capture: string; why: string }[];
  /** Where an unusable database was moved; null if there was none. */
  putAside: string | null;
}

/**
 * Makes a feed from each capture that is missing in the database. What only the database knew (baby, corrections, notes) is lost and is not
 * guessed. An unusable database is moved aside, never deleted.
 */
export function rebuildStore(folder: string, nowMs: number): Rebuilt {
  return rebuildInto(folder, nowMs, (known) => {
    const names = capturesIn(folder).filter((name) => !known.has(feedOf(name)));
    // If a feed has a raw and a packed capture, the raw one is used.
    const byFeed = new Map(
      names
        .sort()
        .reverse()
        .map((name) => [feedOf(name), name]),
    );
    return [...byFeed.values()].sort().map((capture) => {
      try {
        return { capture, feed: feedFromCapture(folder, capture) };
      } catch (error) {
        if (!(error instanceof PlainError)) throw error;
        return { capture, why: error.text };
      }
    });
  });
}

function feedFromCapture(folder: string, capture: string): RebuiltFeed {
  const id = feedOf(capture);
  const path = join(folder, 'captures', capture);
  const sidecar = readSidecar(join(folder, 'captures', `${id}.json`), id);
  const { bytes } = readCapture(path);
  const calibration = parseCalibration(sidecar.calibration, `in the note of ${capture}`);
  const engine = createEngine({ calibration, portionMl: null });
  const rows: FeedRow[] = [];
  const cues: KeptCue[] = [];
  const events: FeedEvent[] = [];
  const teat = { firstSec: null as number | null, lastSec: 0 };
  runEngine(engine, bytes, ({ moment, cues: fired, events: happened }) => {
    cues.push(...fired);
    events.push(...happened);
    if (moment.teatInMouth) {
      teat.firstSec ??= moment.atSec;
      teat.lastSec = moment.atSec;
    }
    if (!isRowDue(moment.atSec, rows.at(-1)?.atSec ?? Number.NEGATIVE_INFINITY)) return;
    const { atSec, milkMl, flowMlPerMin, intakeMl, teatInMouth, tiltDeg } = moment;
    rows.push({ atSec, milkMl, flowMlPerMin, intakeMl, teatInMouth, tiltDeg });
  });
  endEngine(engine);
  if (engine.timeline.accepted === 0) {
    throw new PlainError('rebuild-nothing', 'It holds no sample of a sleeve.', 'Nothing can be made of it.');
  }
  const refined = refineEngine(engine);
  const startedAtMs = Date.parse(sidecar.startedAt);
  const sampleZeroAtMs = Date.parse(sidecar.sampleZeroAt);
  return {
    id,
    capture: `captures/${capture}`,
    simulated: sidecar.simulated,
    sleeveId: sidecar.sleeveId,
    softwareVersion: sidecar.softwareVersion,
    calibration: sidecar.calibration,
    startedAtMs,
    sampleZeroAtMs,
    endedAtMs: Math.max(startedAtMs, sampleZeroAtMs + engine.timeline.atMicros / 1000),
    durationSec: teat.firstSec === null ? 0 : teat.lastSec - teat.firstSec,
    rows,
    cues,
    events,
    refined,
  };
}
