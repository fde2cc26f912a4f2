/** Which of the three color schemes the page uses. Pure. */

import type { Showing } from '../../feed/live/live-view.ts';
import { cueOf, type ShownCue } from '../../pacing/cues/shown-cues.ts';

/** `paper`: ink on light. `dark`: light on charcoal. `night`: warm and dim on near-black. */
export type Tone = 'paper' | 'dark' | 'night';

/** True for cues that ask for something now; a hint does not brighten the page. */
export const isCue = (showing: Showing | undefined): showing is ShownCue =>
  cueOf(showing ?? '')?.calls ?? false;

/** Night is from 19:00 to 7:00 by the device's clock; own choice, no source. */
export const isNightHour = (hour: number): boolean => hour < 7 || hour >= 19;

/**
 * During a feed by day the page is dark until there is a cue; then it turns light, which is noticed from the corner of the eye. `paper` is a hundred
 * times as bright as `dark`, so it is not used at night, when dimmed, or when the device asks for dark; then words and picture alone show the cue.
 * @param isDark  it is night, or the device asks for dark
 */
export function liveTone(showing: Showing | undefined, dimmed: boolean, isDark: boolean): Tone {
  if (dimmed) return 'night';
  if (isDark) return 'dark';
  return showing === 'waiting' || isCue(showing) ? 'paper' : 'dark';
}

/** Scheme of the pages for reading. */
export const readingTone = (dimmed: boolean, isDark: boolean): Tone =>
  dimmed ? 'night' : isDark ? 'dark' : 'paper';
