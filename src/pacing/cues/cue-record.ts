/** The record of a cue: everything that other parts need to know about it; cues.ts has one for each. Types only. */

import type { PaceParams } from '../profile/profile.ts';
import type { QuietLevel } from '../rules/quiet-level.ts';
import type { Switch } from './cues.ts';
import type { Situation } from './lapse.ts';

/** Patterns of light and buzzer (feed/live/light-language.ts). `gentle`: as without a cue. */
export type LightName = 'ease-off' | 'pat' | 'other-side' | 'look-at-baby' | 'gentle';
export type SoundName = 'two-notes' | 'one-note';
/** Drawings of the page (web/drawings/picture.tsx). */
export type PictureName =
  | 'lower-the-bottom'
  | 'stay-low'
  | 'nipple-out'
  | 'breathe'
  | 'burp'
  | 'other-arm'
  | 'look-at-face'
  | 'asleep'
  | 'lower-will-do'
  | 'dry-hole'
  | 'look-at-teat'
  | 'drops'
  | 'tired'
  | 'upright'
  | 'hand-to-mouth';

/** Mark of a cue in a graph: a shape of its own, so that marks differ without color. */
export interface CueMark {
  shape: 'triangle-down' | 'circle' | 'bow-tie' | 'square' | 'diamond' | 'bar';
  isFilled: boolean;
}

export interface CueRecord {
  /** Order among active cues: the one with the lowest number is shown. No two are equal. */
  turn: number;
  /** The switch that turns its rule on; null: for everyone. */
  switch: Switch | null;
  /** True: it asks for something now, so the page brightens. False: a hint, which waits while the estimate is degraded. */
  calls: boolean;
  light: LightName;
  sound: SoundName | null;
  picture: PictureName;
  /** Its third line (`more`) concerns safety, so that even a small page shows it. */
  moreIsSafety: boolean;
  mark: CueMark;
  /** It counts toward the limit of about eight cues in a feed. */
  counts: boolean;
  /** The quietest level at which it is still shown (quiet-level.ts). */
  shownDownTo: QuietLevel;
  /** "Slower" and "enough" cues, those that follow from them, and those that would make milk come faster: where screening says so they are off without a clinician's plan. */
  heldBack: boolean;
  /** Section of the pace profile whose `showSec` limits how long it is shown without an answer; null: no limit. */
  shows: SectionThatShows | null;
  /** Whether its words are still true; as soon as they are not it is dropped, shown or waiting. `then`: the situation when it fired. Figures: own choice, no source. */
  holds: (then: Situation, now: Situation, params: PaceParams) => boolean;
  /** A study may withhold it, since it is about pacing. False for signs of stress, for "enough?", and for a pour that went on after a cue. */
  mayBeWithheld: boolean;
  /** Its advice brings more milk: not given with an empty bottle, after "enough?" was shown, or where cues are held back. */
  bringsMilk: boolean;
}

type SectionThatShows = {
  [K in keyof PaceParams]: PaceParams[K] extends { showSec: number } ? K : never;
}[keyof PaceParams];
/** Common fields of hints: shown on the page alone, and not at the quieter levels. */
export const HINT = {
  calls: false,
  light: 'gentle',
  sound: null,
  moreIsSafety: false,
  mark: { shape: 'diamond', isFilled: false },
  counts: true,
  shownDownTo: 'usual',
  heldBack: false,
  mayBeWithheld: true,
  bringsMilk: false,
} as const satisfies Partial<CueRecord>;
