/** One board for a room, out of what is told of its sleeves. No amount, no fraction, no count of cues, nobody's name. Pure. */
import type { Showing } from '../../feed/live/live-view.ts';
import type { QualityReason } from '../../sensing/moment.ts';
import type { StopCode } from '../binding/bind.ts';
import { byNeed, type Need, needOf } from './needs.ts';
import type { SleeveState } from './sleeve-state.ts';

/** A sleeve that nothing was told of for so long is not to be gone by, ms: what stands is told anew every five seconds, and one may be late. */
export const SILENT_MS = 7500;
/** A sleeve without a feed of which nothing comes leaves the board, ms. Own choice. */
const GONE_MS = 60_000;
/** A feed of which nothing was heard any more stays for so long, ms: somebody must have looked by then. Own choice. */
const FORGOTTEN_MS = 30 * 60_000;
/** A feed that is over leaves the board, seconds. Own choice. */
const OVER_SEC = 600;

export interface Heard {
  state: SleeveState;
  /** By the board's own clock, which only goes forward. Null: it may be of any age, such as what a broker kept. */
  atMs: number | null;
  /** Since when the board knows of it. */
  firstAtMs: number;
}

export interface BoardCot {
  sleeve: number;
  /** Of the child that this sleeve is bound to; null while it is bound to none. */
  cot: string | null;
  need: Need;
  showing: Showing | 'ended';
  /** How long it has been so, whole minutes. */
  forMin: number;
  /** Since the first suck, whole minutes; null outside of a feed. */
  feedMin: number | null;
  cause: SleeveState['cause'];
  quality: QualityReason | null;
}

/** A feed that must not begin: said loudly until it is put right. */
export interface Stopped {
  cot: string | null;
  sleeve: number | null;
  /** Which sentence. */
  code: StopCode;
}

export interface BoardView {
  site: string;
  room: string;
  /** Invented cots: nothing here is a baby. */
  isDemo: boolean;
  /** Who needs a hand first. */
  cots: BoardCot[];
  /** Nothing is heard from the broker. */
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
  }));
}

const LOOK: Need = 'look';

function placedNow({ state, atMs, firstAtMs }: Heard, nowMs: number) {
  const sinceMs = nowMs - (atMs ?? firstAtMs);
  const isSilent = sinceMs >= SILENT_MS;
  const isOpen = state.feedState === 'open';
  // Of what is of any age only this is certain, and not at once: that there was a feed, and nobody tells of it.
  if (atMs === null && !(isOpen && isSilent)) return null;
  if (sinceMs >= (isOpen ? FORGOTTEN_MS : GONE_MS)) return null;
  const shownForSec = state.shownForSec + sinceMs / 1000;
  if (!isOpen && state.feedState !== 'none' && shownForSec >= OVER_SEC) return null;
  const { sleeve } = state;
  if (isOpen && isSilent) {
    const silent = { ...state, showing: 'no-guidance', cause: 'silent', quality: null } as const;
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
