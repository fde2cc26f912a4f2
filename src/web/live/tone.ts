/** Which of the three grounds the page lies on. Pure. */

import type { Showing } from '../../feed/live/live-view.ts';
import { cueOf, type ShownCue } from '../../pacing/cues/shown-cues.ts';

/** `paper`: ink on light. `dark`: light on charcoal. `night`: warm and dim on near-black. */
export type Tone = 'paper' | 'dark' | 'night';

/** True for what asks for something now; a hint does not brighten the page. */
export const isCue = (showing: Showing | undefined): showing is ShownCue =>
  cueOf(showing ?? '')?.calls ?? false;

/** From 7 in the evening to 7 in the morning by the device's own clock; own choice, no source. */
export const isNightHour = (hour: number): boolean => hour < 7 || hour >= 19;

/**
 * In a feed by day the page lies dark until it has something to say; then it turns to paper, which is seen from the corner of the eye. Paper is a hundred
 * times as bright as the dark ground, so at night, dimmed, or where the device asks for dark, it never brightens: words and picture alone do it.
 * @param isDark  it is night, or the device asks for dark
 */
export function liveTone(showing: Showing | undefined, dimmed: boolean, isDark: boolean): Tone {
  if (dimmed) return 'night';
  if (isDark) return 'dark';
  return showing === 'waiting' || isCue(showing) ? 'paper' : 'dark';
}

/** Tone of the pages that are read, not glanced at. */
export const readingTone = (dimmed: boolean, isDark: boolean): Tone =>
  dimmed ? 'night' : isDark ? 'dark' : 'paper';
