/**
 * What a family has set, beside the pace profile. Without it pacing keeps to the four kinds of cue of the sleeve contract, as a replay does.
 */
import type { CueKind } from './cue.ts';
import type { QuietLevel } from './quiet-level.ts';

/** `half-way-and-end`: at half of the portion, else of the usual feed; with neither, as `ounce`. */
export type BurpHabit = 'half-ounce' | 'ounce' | 'half-way-and-end';

export interface Guidance {
  /** Kinds that neither fire nor show: until a clinician's plan is entered (screening.ts), or unwanted. */
  cuesOff: readonly CueKind[];
  suckRhythm: boolean;
  /** Change arms after some minutes where no portion is planned. */
  otherSideByTime: boolean;
  /** "Lower is fine", "the hole is dry". */
  cover: boolean;
  littleComing: boolean;
  longFeed: boolean;
  /** Hold upright, then look for hunger signs: silent. */
  after: boolean;
  burp: BurpHabit;
  usualFeedMl: number | null;
  babyAgeDays: number | null;
  quiet: QuietLevel;
}

/** No family's settings. */
export const BARE_GUIDANCE: Guidance = {
  cuesOff: [],
  suckRhythm: false,
  otherSideByTime: false,
  cover: false,
  littleComing: false,
  longFeed: false,
  after: false,
  burp: 'half-ounce',
  usualFeedMl: null,
  babyAgeDays: null,
  quiet: 'usual',
};

/** What a family starts from on the page. */
export const FAMILY_GUIDANCE: Guidance = {
  ...BARE_GUIDANCE,
  otherSideByTime: true,
  cover: true,
  littleComing: true,
  longFeed: true,
};
