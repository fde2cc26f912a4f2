/** The state of pacing between two steps, and its initial value. */
import { PlainError } from '../base/errors.ts';
import { type ActiveCues, noActiveCues } from './active-cues.ts';
import type { Cue, ShownCue } from './cues/cue.ts';
import type { Situation } from './cues/lapse.ts';
import { burpParams, createFamilyRules, type FamilyRules } from './family-rules.ts';
import { BARE_GUIDANCE, type Guidance } from './guidance.ts';
import { type PaceParams, type PaceProfile, paceParams } from './profile/profile.ts';
import { type Burps, createBurps } from './rules/burps.ts';
import { type Button, createButton } from './rules/button.ts';
import { createEnough, type Enough } from './rules/enough.ts';
import { createQuiet, type Quiet } from './rules/quiet.ts';
import { createRefusals, type Refusals } from './rules/refusals.ts';
import { createSteepHold, type SteepHold } from './rules/steep-hold.ts';
import { createSwitchSide, type SwitchSide } from './rules/switch-side.ts';
import { createTiltDown, type TiltDown } from './rules/tilt-down.ts';

/** Result of one step. There is one object per state, which the next step overwrites: copy what must last. `cues` is not reused. */
export interface PacingStep {
  /** Cues that fired in this step, usually none. */
  cues: readonly Cue[];
  /** The one cue to show now. */
  showing: ShownCue | null;
  /** The bottle is held steeply and this is to be said now; only while there is no cue. */
  heldSteeply: boolean;
  /** How far ahead of a gentle pace: 0 not at all, 1 at or beyond the mark where a cue comes; null where no pace is known for this baby. */
  aheadOfPace: number | null;
  /** True in the step in which a burp counted as taken, by lifting the bottle or by the button. */
  burpTaken: boolean;
  /** True in the step in which the button had been held long enough to end the feed. */
  endRequested: boolean;
}

/** The active cues, and which of them is shown. */
export interface Turns {
  readonly active: ActiveCues;
  readonly quiet: Quiet;
  /** Intake at the latest burp that the caregiver gave without being asked, mL; null once a burp had to be asked for. */
  ownBurpMl: number | null;
}

export interface PacingState {
  readonly params: PaceParams;
  /** During a feed cues are only ever turned off (`turnOff`). */
  guidance: Guidance;
  /** Null where burps do not depend on volume. */
  readonly burpParams: PaceParams['burp'] | null;
  readonly family: FamilyRules;
  readonly refusals: Refusals;
  /** What people are shown. */
  readonly seen: Turns;
  /**
   * Cues in turn as they were before cues could lapse. They are not shown; whether `switch-side` is recorded depends on them, so that the replay of an
   * old feed gives the same record.
   */
  readonly recorded: Turns;
  readonly tiltDown: TiltDown;
  readonly steepHold: SteepHold;
  readonly burps: Burps;
  readonly switchSide: SwitchSide;
  readonly enough: Enough;
  readonly button: Button;
  readonly out: PacingStep;
  /** Intake at the first step, from which this feed's intake counts. Null before. */
  startMl: number | null;
  /** This feed's intake in the previous step, mL. */
  lastIntakeMl: number;
  teatWasInMouth: boolean;
  /** Suck count when `offer-stop` fired. */
  sucksAtOfferStop: number;
  firstLatchSec: number | null;
  /** What the conditions of cues depend on, as of this step. */
  now: Situation;
}

export const NO_CUES: readonly Cue[] = Object.freeze([]);

/**
 * Starts the pacing of one feed.
 * @param feed portionMl: the planned portion, mL, or null; only `switch-side` and burps half-way rest on it.
 *   guidance: the family's settings; without them only the four cues of the sleeve contract
 * @throws PlainError portion-invalid when the portion is not a positive number
 */
export function createPacing(
  profile: PaceProfile,
  feed: { portionMl: number | null; guidance?: Guidance },
): PacingState {
  const { portionMl, guidance = BARE_GUIDANCE } = feed;
  if (portionMl !== null && !(portionMl > 0 && Number.isFinite(portionMl))) {
    throw new PlainError(
      'portion-invalid',
      `The portion is ${portionMl} mL; it must be more than zero.`,
      'Give the portion in millilitres, or leave it out.',
    );
  }
  const params = paceParams(profile);
  return {
    params,
    guidance,
    burpParams: burpParams(params.burp, guidance, portionMl),
    family: createFamilyRules(params, guidance, portionMl),
    refusals: createRefusals(),
    seen: createTurns(guidance, params),
    recorded: createTurns(guidance, params),
    tiltDown: createTiltDown(params),
    steepHold: createSteepHold(),
    burps: createBurps(),
    switchSide: createSwitchSide(portionMl, params.switchSide, guidance),
    enough: createEnough(params.enough),
    button: createButton(),
    out: {
      cues: NO_CUES,
      showing: null,
      heldSteeply: false,
      aheadOfPace: 0,
      burpTaken: false,
      endRequested: false,
    },
    startMl: null,
    lastIntakeMl: 0,
    teatWasInMouth: false,
    sucksAtOfferStop: 0,
    firstLatchSec: null,
    now: {
      atSec: 0,
      intakeMl: 0,
      suckCount: 0,
      pauseSec: Number.POSITIVE_INFINITY,
      outSec: 0,
      bottleEmpty: false,
      enoughShown: false,
      heldBack: false,
      tooFast: false,
      burps: 0,
      tiltDeg: 0,
      headMm: null,
      coverTiltDeg: null,
    },
  };
}

const createTurns = ({ quiet }: Guidance, params: PaceParams): Turns => ({
  active: noActiveCues(),
  quiet: createQuiet(quiet, params.quiet),
  ownBurpMl: null,
});
