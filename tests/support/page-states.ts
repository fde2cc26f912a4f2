/** Every state in which the live page can be, for tests and for looking at it. */
import type { LiveView, Showing } from '../../src/feed/live-view.ts';
import { SHOWN_CUES, type ShownCue } from '../../src/pacing/cues.ts';

const OFF_LINE = { aheadOfPace: null } as const;

const CUE_STATES = Object.fromEntries(SHOWN_CUES.map((shown) => [shown, { aheadOfPace: 0.2 }])) as Record<
  ShownCue,
  Partial<LiveView>
>;

export const PAGE_STATES: Record<Showing, Partial<LiveView>> = {
  ...CUE_STATES,
  waiting: { ...OFF_LINE, feedState: 'none', feedId: null, feedElapsedSec: null, teatInMouth: false },
  gentle: { aheadOfPace: 0.35 },
  'tilt-down': {
    aheadOfPace: 1,
    because: '18.4 mL above 8 mL/min: 23.7 mL/min for 41 s, 28.6 mL taken, 61.4 mL left',
  },
  burp: { aheadOfPace: 0.2, because: '15.2 mL since the last burp, 2.1 s without a suck' },
  'last-burp': { ...OFF_LINE, because: '22.4 mL since the last burp', teatInMouth: false },
  'switch-side': { aheadOfPace: 0.1, because: '46 of 90 mL' },
  'keep-low': { aheadOfPace: 1, because: 'milk keeps pouring' },
  'offer-stop': { aheadOfPace: 0, because: '0.4 mL/min over 150 s' },
  'cannot-tell': { qualityReason: 'roll' },
  'no-guidance': { ...OFF_LINE, because: 'The cable to the sleeve is out. Put it back in.' },
  'guidance-off': { guidancePaused: true },
};
export const SHOWINGS = Object.keys(PAGE_STATES) as Showing[];
