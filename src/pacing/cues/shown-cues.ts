/** What can be shown of the cues: each cue, and cues in other words. */
import type { CueRecord, PictureName } from './cue-record.ts';
import { CUE_KINDS, CUES, type CueKind } from './cues.ts';

/**
 * Cues shown in other words: a `tilt-down` that came again because milk kept pouring, one that came after two in vain, a `burp` with the bottle empty.
 */
const SHOWN_OTHERWISE = {
  'keep-low': { of: 'tilt-down', picture: 'stay-low', mayBeWithheld: true },
  'nipple-out': { of: 'tilt-down', picture: 'nipple-out', mayBeWithheld: false },
  'last-burp': { of: 'burp', picture: 'burp', mayBeWithheld: true },
} as const satisfies Record<string, { of: CueKind; picture: PictureName; mayBeWithheld: boolean }>;

/** What can be shown of the cues. */
export type ShownCue = CueKind | keyof typeof SHOWN_OTHERWISE;

export const SHOWN_CUES = [...CUE_KINDS, ...Object.keys(SHOWN_OTHERWISE)] as ShownCue[];
const isOtherwise = (shown: string): shown is keyof typeof SHOWN_OTHERWISE =>
  Object.hasOwn(SHOWN_OTHERWISE, shown);
/** @returns the kind under which the record has what is shown */
export const kindOf = (shown: ShownCue): CueKind => (isOtherwise(shown) ? SHOWN_OTHERWISE[shown].of : shown);

/** @returns the record of what is shown, with what is its own; null for what is no cue */
export function cueOf(shown: string): CueRecord | null {
  if (Object.hasOwn(CUES, shown)) return CUES[shown as CueKind];
  if (!isOtherwise(shown)) return null;
  const { of, ...own } = SHOWN_OTHERWISE[shown];
  return { ...CUES[of], ...own };
}

/** @returns whether a study may withhold what would be shown */
export const mayBeWithheld = (shown: ShownCue): boolean => cueOf(shown)?.mayBeWithheld ?? false;
