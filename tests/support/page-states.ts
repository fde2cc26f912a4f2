/** Every state of the live page, for tests and for looking at it. */
import type { LiveView, Showing } from '../../src/feed/live/live-view.ts';
import { SHOWN_CUES, type ShownCue } from '../../src/pacing/cues/shown-cues.ts';

const OFF_LINE = { aheadOfPace: null } as const;

const CUE_STATES = Object.fromEntries(SHOWN_CUES.map((shown) => [shown, { aheadOfPace: 0.2 }])) as Record<
  ShownCue,
  Partial<LiveView>
>;

export const PAGE_STATES: Record<Showing, Partial<LiveView>> = {
  ...CUE_STATES,
  waiting: { ...OFF_LINE, feedState: 'none', feedId: null, feedElapsedSec: null, teatInMouth: false },
  gentle: { aheadOfPace: 0.35 },
  'held-steeply': { aheadOfPace: 0.05 },
  'tilt-down': {
    aheadOfPace: 1,
    because: {
      rule: 'tilt-down',
      numbers: { sinceMl: 28.6, overSec: 41, flowMlPerMin: 23.7, aheadMl: 18.4, rateMlPerMin: 8 },
    },
  },
  burp: { aheadOfPace: 0.2, because: { rule: 'burp', numbers: { sinceMl: 15.2, pauseSec: 2.1 } } },
  'last-burp': {
    ...OFF_LINE,
    because: { rule: 'burp-without-pause', numbers: { sinceMl: 22.4 } },
    teatInMouth: false,
  },
  'switch-side': {
    aheadOfPace: 0.1,
    because: { rule: 'switch-side', numbers: { takenMl: 46, pauseSec: 2.1 } },
  },
  'keep-low': { aheadOfPace: 1 },
  'offer-stop': { aheadOfPace: 0, because: { rule: 'refused', numbers: { refusals: 3 } } },
  'cannot-tell': { qualityReason: 'roll' },
  'no-guidance': { ...OFF_LINE, because: 'The cable to the sleeve is out. Put it back in.', cause: 'lost' },
  'guidance-off': { guidanceOff: true },
  'cues-withheld': { aheadOfPace: null },
};
export const SHOWINGS = Object.keys(PAGE_STATES) as Showing[];
