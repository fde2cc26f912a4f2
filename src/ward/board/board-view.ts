/** The board of a room from the states of its sleeves. No amounts, no fractions, no counts of cues, no names. Pure. */
import type { Showing } from '../../feed/live/live-view.ts';
import type { QualityReason } from '../../sensing/moment.ts';
import type { StopCode } from '../binding/bind.ts';
import { byNeed, type Need, needOf } from './needs.ts';
import type { SleeveState } from './sleeve-state.ts';

/** A state older than this is not used, ms: states are sent every five seconds, and one may be late. */
export const SILENT_MS = 7500;
/** A silent sleeve without a feed is removed from the board after this time, ms. Own choice. */
const GONE_MS = 60_000;
/** A silent feed stays on the board for this long, ms. Own choice. */
const FORGOTTEN_MS = 30 * 60_000;
/** An ended feed is removed from the board after this time, seconds. Own choice. */
const OVER_SEC = 600;

export interface Heard {
  state: SleeveState;
  /** By the board's own clock, which only goes forward. Null: a retained message of unknown age. */
  atMs: number | null;
  /** When the board first received it. */
  firstAtMs: number;
}

export interface BoardCot {
  sleeve: number;
  /** Cot of the child that the sleeve is bound to; null without a binding. */
  cot: string | null;
  need: Need;
  showing: Showing | 'ended';
  /** How long it has been so, whole minutes. */
  forMin: number;
  /** Since the first suck, whole minutes; null outside of a feed. */
  feedMin: number | null;
  cause: SleeveState['cause'];
  quality: QualityReason | null;
  /** A quiet notice: it changes no cot's place. */
  calibration: SleeveState['calibration'];
}

/** A feed that must not begin; it is shown prominently. */
export interface Stopped {
  cot: string | null;
  sleeve: number | null;
  /** Which sentence. */
  code: StopCode;
}

export interface BoardView {
  site: string;
  room: string;
  /** True for invented cots. */
  isDemo: boolean;
  /** In order of need. */
  cots: BoardCot[];
  /** The connection to the broker is lost. */
  isCutOff: boolean;
  stopped: Stopped[];
}

/** @param cotOf the cot that a sleeve is bound to, or null */
export function boardCots(
  heard: Iterable<Heard>,
  cotOf: (sleeve: number) => string | null,
  nowMs: number,
): BoardCot[] {
  const placed = [...heard]
    .map((one) => placedNow(one, nowMs))
    .filter((one) => one !== null)
    .sort(byNeed);
  return placed.map(({ need, shownForSec, state, showing, feedForSec }) => ({
    sleeve: state.sleeve,
    cot: cotOf(state.sleeve),
    need,
    showing,
    forMin: Math.floor(shownForSec / 60),
    feedMin: feedForSec === null ? null : Math.floor(feedForSec / 60),
    cause: showing === 'no-guidance' ? state.cause : null,
    quality: showing === 'cannot-tell' ? state.quality : null,
    calibration: showing === 'ended' ? null : state.calibration,
  }));
}

const LOOK: Need = 'look';

function placedNow({ state, atMs, firstAtMs }: Heard, nowMs: number) {
  const sinceMs = nowMs - (atMs ?? firstAtMs);
  const isSilent = sinceMs >= SILENT_MS;
  const isOpen = state.feedState === 'open';
  // A retained state of unknown age only shows, after some time, that there was a feed that nobody reports now.
  if (atMs === null && !(isOpen && isSilent)) return null;
  if (sinceMs >= (isOpen ? FORGOTTEN_MS : GONE_MS)) return null;
  const shownForSec = state.shownForSec + sinceMs / 1000;
  if (!isOpen && state.feedState !== 'none' && shownForSec >= OVER_SEC) return null;
  const { sleeve } = state;
  if (isOpen && isSilent) {
    const silent = {
      ...state,
      showing: 'no-guidance',
      cause: 'silent',
      quality: null,
      calibration: null,
    } as const;
    const forSec = state.showing === 'no-guidance' && atMs !== null ? shownForSec : sinceMs / 1000;
    return {
      need: LOOK,
      shownForSec: forSec,
      sleeve,
      state: silent,
      showing: silent.showing,
      feedForSec: null,
    };
  }
  if (!isOpen && (state.cause === 'sleeve-unknown' || state.cause === 'not-guided'))
    return {
      ...{ need: LOOK, shownForSec, sleeve, state, isIdle: true },
      ...{ showing: 'no-guidance' as const, feedForSec: null },
    };
  const isReady = state.feedState === 'none';
  const need = needOf({ showing: state.showing, shownForSec, isFeeding: isOpen, isReady });
  const showing: Showing | 'ended' = isOpen ? state.showing : isReady ? 'waiting' : 'ended';
  const feedForSec = isOpen && state.feedForSec !== null ? state.feedForSec + sinceMs / 1000 : null;
  return { need, shownForSec, sleeve, state, showing, feedForSec };
}
