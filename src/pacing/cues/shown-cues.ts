/** What can be shown: each cue, and variants of some cues with other words. */
import type { CueRecord, PictureName } from './cue-record.ts';
import { CUE_KINDS, CUES, type CueKind } from './cues.ts';

/**
 * Variants: a `tilt-down` that came again because milk kept pouring; one that came after two without effect; a `burp` with the bottle empty.
 */
const SHOWN_OTHERWISE = {
  'keep-low': { of: 'tilt-down', picture: 'stay-low', mayBeWithheld: true },
  'nipple-out': { of: 'tilt-down', picture: 'nipple-out', mayBeWithheld: false },
  'last-burp': { of: 'burp', picture: 'burp', mayBeWithheld: true },
} as const satisfies Record<string, { of: CueKind; picture: PictureName; mayBeWithheld: boolean }>;

/** Everything that can be shown as a cue. */
export type ShownCue = CueKind | keyof typeof SHOWN_OTHERWISE;

export const SHOWN_CUES = [...CUE_KINDS, ...Object.keys(SHOWN_OTHERWISE)] as ShownCue[];
const isOtherwise = (shown: string): shown is keyof typeof SHOWN_OTHERWISE =>
  Object.hasOwn(SHOWN_OTHERWISE, shown);
/** @returns the kind of cue that a variant belongs to */
export const kindOf = (shown: ShownCue): CueKind => (isOtherwise(shown) ? SHOWN_OTHERWISE[shown].of : shown);

/** @returns the record of what is shown, with the variant's own fields; null if it is no cue */
export function cueOf(shown: string): CueRecord | null {
  if (Object.hasOwn(CUES, shown)) return CUES[shown as CueKind];
  if (!isOtherwise(shown)) return null;
  const { of, ...own } = SHOWN_OTHERWISE[shown];
  return { ...CUES[of], ...own };
}

/** @returns whether a study may withhold what would be shown */
export const mayBeWithheld = (shown: ShownCue): boolean => cueOf(shown)?.mayBeWithheld ?? false;
