/**
 * What a family has set, beside the pace profile. Without it pacing keeps to the four kinds of cue of the sleeve contract, as a replay does.
 */
import type { CueKind, Switch } from './cues/cues.ts';
import { FAMILY_SWITCHES, switchesBy } from './cues/family-switches.ts';
import type { QuietLevel } from './rules/quiet-level.ts';

/** How often a burp is offered. `two-ounces`: as the AAP says; the smaller ones are common practice, no source. `half-way-and-end`: at half of the portion, else of the usual feed; with neither, as `ounce`. */
export type BurpHabit = 'half-ounce' | 'ounce' | 'two-ounces' | 'half-way-and-end';

/** A switch that is missing, as in a feed from before there was one, is off. */
export interface Guidance extends Readonly<Record<Switch, boolean>> {
  /** Kinds that neither fire nor show: until a clinician's plan is entered (screening.ts), or unwanted. */
  cuesOff: readonly CueKind[];
  burp: BurpHabit;
  usualFeedMl: number | null;
  babyAgeDays: number | null;
  quiet: QuietLevel;
}

/** No family's settings. */
export const BARE_GUIDANCE: Guidance = {
  cuesOff: [],
  ...switchesBy(() => false),
  burp: 'half-ounce',
  usualFeedMl: null,
  babyAgeDays: null,
  quiet: 'usual',
};

/** Of a baby that nobody was asked about: what rests on the milk's weight alone. */
export const UNASKED_GUIDANCE: Guidance = { ...BARE_GUIDANCE, otherSideByWeight: true };

/** What a family starts from on the page. */
export const FAMILY_GUIDANCE: Guidance = {
  ...BARE_GUIDANCE,
  ...FAMILY_SWITCHES,
};
