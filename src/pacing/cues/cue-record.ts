/** What there is to say of a cue; cues.ts says it of each. Types only. */

import type { PaceParams } from '../profile/profile.ts';
import type { QuietLevel } from '../rules/quiet-level.ts';
import type { Switch } from './cues.ts';
import type { Situation } from './lapse.ts';

/** Signs of the light and of the buzzer (feed/light-language.ts). `gentle`: as while there is nothing to do. */
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

/** How a cue looks in a graph: a shape of its own, told apart without color. */
export interface CueMark {
  shape: 'triangle-down' | 'circle' | 'bow-tie' | 'square' | 'diamond' | 'bar';
  isFilled: boolean;
}

export interface CueRecord {
  /** Of the cues that stand the one with the least number has its turn; no two are alike. */
  turn: number;
  /** The switch that turns its rule on; null: for everyone. */
  switch: Switch | null;
  /** It asks for something now, so the page brightens; else it is a hint, which waits while the estimate is degraded. */
  calls: boolean;
  light: LightName;
  sound: SoundName | null;
  picture: PictureName;
  /** Its third line (`more`) is a safety line, which no page cuts, however small. */
  moreIsSafety: boolean;
  mark: CueMark;
  /** One of the eight or so that a feed may have. */
  counts: boolean;
  /** The quietest level at which it is still shown. */
  shownDownTo: QuietLevel;
  /** "Slower", "enough", what would follow from them, and what would make milk come faster: off until a clinician's plan is entered where screening says so. */
  heldBack: boolean;
  /** The section of the pace profile whose `showSec` says how long it is shown if nobody answers; null: until it is over. */
  shows: SectionThatShows | null;
  /** Whether its words are still true; dropped in the step in which they are not, shown or waiting. Figures: own choice, no source. `then`: when it fired. */
  holds: (then: Situation, now: Situation, params: PaceParams) => boolean;
  /** About the practice of pacing: a study may withhold it. Signs of stress or of enough, and a pour that went on in spite of it, never are. */
  mayBeWithheld: boolean;
  /** Its words bring more milk: never with an empty bottle, once "enough?" was shown, or where cues are held back. */
  bringsMilk: boolean;
}

type SectionThatShows = {
  [K in keyof PaceParams]: PaceParams[K] extends { showSec: number } ? K : never;
}[keyof PaceParams];
/** A hint: on the page alone, not at the quieter levels. */
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
