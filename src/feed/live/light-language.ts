/**
 * Patterns of the light and the buzzer, our own design: they differ by rhythm first, by brightness second, by tint last.
 * Nothing flashes more often than once a second (WCAG 2.3.1 allows three, from memory). At most two soft low notes, since the buzzer is close to
 * a baby's ear.
 */
import type { LightName, SoundName } from '../../pacing/cues/cue-record.ts';
import type { ContractCueKind } from '../../pacing/cues/cues.ts';
import { cueOf, type ShownCue } from '../../pacing/cues/shown-cues.ts';
import type { Showing } from './live-view.ts';

/** Duty cycle of each color, 0 to 255. */
export interface Light {
  red: number;
  green: number;
  blue: number;
}

interface Pattern {
  tint: Light;
  /** Seconds on, off, on, off … of one period; a single entry means steady light. */
  rhythmSec: readonly number[];
}

const DARK: Light = { red: 0, green: 0, blue: 0 };

const GENTLE: Pattern = { tint: { red: 6, green: 4, blue: 1 }, rhythmSec: [1] };
/** "Lower your hand". Long and slow and hardly ever dark, so that it is seen at the edge of the field of view. */
const EASE_OFF: Pattern = { tint: { red: 255, green: 96, blue: 16 }, rhythmSec: [1.2, 0.4] };
/** Steady: look up at the baby. */
const LOOK_AT_BABY: Pattern = { tint: { red: 120, green: 70, blue: 150 }, rhythmSec: [1] };

/** Burp: two short glows, then a rest. */
const PAT: Pattern = { tint: { red: 140, green: 120, blue: 90 }, rhythmSec: [0.5, 0.5, 0.5, 2.5] };

/** Other side: one long and one short glow. */
const OTHER_SIDE: Pattern = { tint: { red: 90, green: 110, blue: 160 }, rhythmSec: [1.5, 0.5, 0.5, 1.5] };
const GLIMMER: Pattern = { tint: { red: 20, green: 16, blue: 8 }, rhythmSec: [0.6, 5.4] };
const OFF: Pattern = { tint: DARK, rhythmSec: [1] };

/** Few patterns: all cues to lower the bottle share one, all cues to look at the baby share one, and hints have none. */
const CUE_PATTERNS: Record<LightName, Pattern> = {
  'ease-off': EASE_OFF,
  pat: PAT,
  'other-side': OTHER_SIDE,
  'look-at-baby': LOOK_AT_BABY,
  gentle: GENTLE,
};

/** Weaker than any cue, and slow. */
const HELD_STEEPLY: Pattern = { tint: { red: 24, green: 14, blue: 3 }, rhythmSec: [2, 2] };

const STATE_PATTERNS: Record<Exclude<Showing, ShownCue>, Pattern> = {
  gentle: GENTLE,
  'held-steeply': HELD_STEEPLY,
  'cannot-tell': GLIMMER,
  'no-guidance': GLIMMER,
  'guidance-off': OFF,
  'cues-withheld': GENTLE,
  waiting: OFF,
};

function patternOf(showing: Showing): Pattern {
  const cue = cueOf(showing);
  return cue ? CUE_PATTERNS[cue.light] : STATE_PATTERNS[showing as Exclude<Showing, ShownCue>];
}

/** Seconds on, off, on, off … of a light; one number means steady. For printed pages. */
export const lightRhythm = (showing: Showing): readonly number[] => patternOf(showing).rhythmSec;

const DIM_SHARE = 0.25;

/**
 * The light now.
 * @param shownSec how long this has been shown, seconds
 */
export function lightFor(showing: Showing, dimmed: boolean, shownSec: number): Light {
  const { tint, rhythmSec } = patternOf(showing);
  const share = dimmed ? DIM_SHARE : 1;
  if (rhythmSec.length > 1) {
    const round = rhythmSec.reduce((sum, part) => sum + part, 0);
    let at = shownSec % round;
    for (let i = 0; i < rhythmSec.length; i++) {
      if (at < rhythmSec[i]!) return i % 2 === 0 ? scaled(tint, share) : DARK;
      at -= rhythmSec[i]!;
    }
  }
  return scaled(tint, share);
}

/** Answer to "Which sleeve is this?": three even glows, unlike any cue's rhythm. */
const WHICH_SLEEVE: Pattern = { tint: { red: 40, green: 120, blue: 60 }, rhythmSec: [0.6, 0.6] };
const WHICH_SLEEVE_SEC = 3.6;

/** @param askedSec  time since the question, seconds @returns null once the answer is over */
export function whichSleeveLight(askedSec: number): Light | null {
  if (!(askedSec >= 0 && askedSec < WHICH_SLEEVE_SEC)) return null;
  const [onSec, offSec] = WHICH_SLEEVE.rhythmSec as [number, number];
  return askedSec % (onSec + offSec) < onSec ? WHICH_SLEEVE.tint : DARK;
}

/** "Not this bottle": red, long and even, unlike any cue. */
const STOP: Pattern = { tint: { red: 255, green: 0, blue: 0 }, rhythmSec: [0.7, 0.5] };

/** @param saidSec  since it was said, seconds */
export function stopLight(saidSec: number): Light {
  const [onSec = 1, offSec = 0] = STOP.rhythmSec;
  return saidSec % (onSec + offSec) < onSec ? STOP.tint : DARK;
}

const scaled = ({ red, green, blue }: Light, share: number): Light => ({
  red: Math.ceil(red * share),
  green: Math.ceil(green * share),
  blue: Math.ceil(blue * share),
});

/** Less light than this is no cue: it lies between the dimmest cue and the light of "can't tell". Sum of the three levels. */
const FAINTEST_CUE = 65;

/** The cue that a person would recognize in a light; null for dark or for no cue. It uses the tint, so one sample of the light is enough. */
export function cueInLight(light: Light): ContractCueKind | null {
  const sum = light.red + light.green + light.blue;
  if (sum < FAINTEST_CUE) return null;
  const redShare = light.red / sum;
  const blueShare = light.blue / sum;
  if (redShare > 0.6) return 'tilt-down';
  if (blueShare > 0.42) return redShare > 0.3 ? 'offer-stop' : 'switch-side';
  // Plain white is the sleeve's own sign that no host guides it.
  return redShare > 0.36 ? 'burp' : null;
}

/** Notes for a cue that begins; null where only the light is used. */
export interface Notes {
  frequencyHz: number;
  onMs: number;
  offMs: number;
  repeats: number;
}

const NOTES: Record<SoundName, Notes> = {
  'two-notes': { frequencyHz: 440, onMs: 180, offMs: 160, repeats: 2 },
  'one-note': { frequencyHz: 330, onMs: 180, offMs: 160, repeats: 1 },
};

/** For "not this bottle": three, before anybody drinks; of cues only two are heard. */
export const STOP_NOTES: Notes = { frequencyHz: 440, onMs: 400, offMs: 200, repeats: 3 };

/** Two sounds are never closer together than this, seconds. */
export const SOUND_GAP_SEC = 10;

export function notesFor(showing: Showing): Notes | null {
  const sound = cueOf(showing)?.sound ?? null;
  return sound === null ? null : NOTES[sound];
}
