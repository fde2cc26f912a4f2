/**
 * For teaching: the same simulated baby fed twice from the same bottle, once by a caregiver who holds it steeply and ignores
 * cues, once by one who follows the light. Each runs through the sleeve's own engine as fast as possible, in slices
 * short enough not to delay a real feed in the same program.
 */
import { setImmediate } from 'node:timers/promises';
import { encodeMessage } from '../../../firmware-bridge/wire/codec.ts';
import { MESSAGES } from '../../../firmware-bridge/wire/messages.ts';
import { createEngine, type EngineTick, runEngine } from '../../feed/engine.ts';
import { cueInLight, lightFor } from '../../feed/live/light-language.ts';
import { SHOWING_START, stepShowing } from '../../feed/live/showing.ts';
import {
  FAMILY_GUIDANCE,
  SHIPPED_PROFILE,
  type TechniqueRow,
  techniqueOf,
  techniqueWords,
} from '../../pacing/index.ts';
import { parseCalibration } from '../../sensing/index.ts';
import { createSimulatedFeed } from '../../simulation/simulated-feed.ts';
import type { PracticeFeed, PracticeFeeds } from './practice-answers.ts';

const SCENARIO = 'tipped-up';
const STEPS_PER_SEC = 80;
const SLICE_STEPS = 5 * STEPS_PER_SEC;
/** A longer feed is cut off here. */
const LONGEST_SEC = 45 * 60;
/** In a feed a steep hold is said once; in teaching it is shown as long as it lasts. */
const STEEP_DEG = SHIPPED_PROFILE.steepHold.overDeg.value;
/** From row to row. */
const PRACTICE_ROW_SEC = 0.5;

/** @param seed  the same seed gives the same two feeds */
export async function practicePair(seed: number): Promise<PracticeFeeds> {
  return { steep: await practiceFeed(seed, false), followed: await practiceFeed(seed, true) };
}

async function practiceFeed(seed: number, follows: boolean): Promise<PracticeFeed> {
  const feed = createSimulatedFeed({ scenario: SCENARIO, seed, follows });
  const engine = createEngine({
    calibration: parseCalibration(feed.calibration, 'of the simulated sleeve'),
    portionMl: null,
    refinable: false,
    guidance: FAMILY_GUIDANCE,
  });
  const track: PracticeFeed = { rowSec: PRACTICE_ROW_SEC, ahead: [], tiltDeg: [], teatIn: [], shown: [] };
  const suckAtSec: number[] = [];
  let show = SHOWING_START;
  let firstLatchSec: number | null = null;
  const onTick = ({ moment, showing, aheadOfPace }: EngineTick): void => {
    if (moment.teatInMouth) firstLatchSec ??= moment.atSec;
    const before = show.showing;
    show = stepShowing(show, {
      nowMs: moment.atSec * 1000,
      fresh: true,
      feedOpen: firstLatchSec !== null,
      guidanceOff: false,
      cue: showing,
      heldSteeply: moment.teatInMouth && moment.tiltDeg > STEEP_DEG,
      invalid: moment.quality === 'invalid',
    });
    if (firstLatchSec === null) return;
    const feedSec = moment.atSec - firstLatchSec;
    if (moment.lastSuckAtSec !== null && moment.lastSuckAtSec - firstLatchSec > (suckAtSec.at(-1) ?? -1)) {
      suckAtSec.push(moment.lastSuckAtSec - firstLatchSec);
    }
    if (show.showing !== before) track.shown.push({ atSec: round(feedSec, 1), showing: show.showing });
    if (feedSec < track.ahead.length * PRACTICE_ROW_SEC) return;
    track.ahead.push(aheadOfPace === null ? null : round(Math.min(1, aheadOfPace), 2));
    track.tiltDeg.push(Math.round(moment.tiltDeg));
    track.teatIn.push(moment.teatInMouth);
  };
  for (let step = 0; step < LONGEST_SEC * STEPS_PER_SEC && !feed.done; step++) {
    const { sample, truth } = feed.step();
    if (sample) runEngine(engine, encodeMessage(MESSAGES.SAMPLE, sample), onTick);
    if (step % 4 === 3) {
      feed.perceive(cueInLight(lightFor(show.showing, false, truth.atSec - show.sinceMs / 1000)));
    }
    if (step % SLICE_STEPS === 0) await setImmediate();
  }
  return withTechnique(withoutTheTable(track), suckAtSec);
}

/** Leaves out the rows after the teat has left the mouth for the last time. */
function withoutTheTable(track: PracticeFeed): PracticeFeed {
  const rows = track.teatIn.lastIndexOf(true) + 2;
  const endSec = rows * track.rowSec;
  return {
    ...track,
    ahead: track.ahead.slice(0, rows),
    tiltDeg: track.tiltDeg.slice(0, rows),
    teatIn: track.teatIn.slice(0, rows),
    shown: track.shown.filter(({ atSec }) => atSec <= endSec),
  };
}

function withTechnique(track: PracticeFeed, suckAtSec: readonly number[]): PracticeFeed {
  const rows = track.tiltDeg.map(
    (tiltDeg, row): TechniqueRow => ({
      atSec: row * track.rowSec,
      tiltDeg,
      teatInMouth: track.teatIn[row] ?? false,
    }),
  );
  const technique = techniqueOf(rows, { suckAtSec });
  return technique ? { ...track, technique: techniqueWords(technique) } : track;
}

const round = (value: number, digits: number): number => Number(value.toFixed(digits));
