/**
 * The family's settings beside the pace profile. Without them pacing gives only the four kinds of cue of the sleeve contract, as a replay does.
 */
import type { CueKind, Switch } from './cues/cues.ts';
import { FAMILY_SWITCHES, switchesBy } from './cues/family-switches.ts';
import type { QuietLevel } from './rules/quiet-level.ts';

/** How often a burp is offered. `two-ounces`: as the AAP says; smaller ones are common practice, no source. `half-way-and-end`: at half of the portion, or of the usual feed; if neither is known, as `ounce`. */
export type BurpHabit = 'half-ounce' | 'ounce' | 'two-ounces' | 'half-way-and-end';

/** A missing switch, as in an old feed, is off. */
export interface Guidance extends Readonly<Record<Switch, boolean>> {
  /** Kinds that neither fire nor show: off by screening without a clinician's plan (screening.ts), or unwanted. */
  cuesOff: readonly CueKind[];
  burp: BurpHabit;
  usualFeedMl: number | null;
  babyAgeDays: number | null;
  quiet: QuietLevel;
}

/** The settings without a family. */
export const BARE_GUIDANCE: Guidance = {
  cuesOff: [],
  ...switchesBy(() => false),
  burp: 'half-ounce',
  usualFeedMl: null,
  babyAgeDays: null,
  quiet: 'usual',
};

/** For a baby that was never screened: only what follows from the milk's weight. */
export const UNASKED_GUIDANCE: Guidance = { ...BARE_GUIDANCE, otherSideByWeight: true };

/** A family's defaults on the page. */
export const FAMILY_GUIDANCE: Guidance = {
  ...BARE_GUIDANCE,
  ...FAMILY_SWITCHES,
};
