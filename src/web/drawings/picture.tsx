import type { ComponentType } from 'preact';
import type { Showing } from '../../feed/live/live-view.ts';
import type { PictureName } from '../../pacing/cues/cue-record.ts';
import { cueOf, type ShownCue } from '../../pacing/cues/shown-cues.ts';
import { BurpAtTheShoulder, LookAtFace, LowerTheBottom, OtherArm, UprightAtTheShoulder } from './cues.tsx';
import {
  BottleStaysLow,
  DryHole,
  HandToMouth,
  LookAtTeat,
  LowerWillDo,
  ManyDrops,
  NippleOut,
  SoundAsleep,
  TimeToBreathe,
  TiredFace,
} from './family-cues.tsx';
import { BoxedLight, LightOff, PulledPlug, StandingBottle, SteepBottle, UnfeltBottle } from './states.tsx';

const CUE_PICTURES: Record<PictureName, ComponentType> = {
  'lower-the-bottom': LowerTheBottom,
  'stay-low': BottleStaysLow,
  'nipple-out': NippleOut,
  breathe: TimeToBreathe,
  burp: BurpAtTheShoulder,
  'other-arm': OtherArm,
  'look-at-face': LookAtFace,
  asleep: SoundAsleep,
  'lower-will-do': LowerWillDo,
  'dry-hole': DryHole,
  'look-at-teat': LookAtTeat,
  drops: ManyDrops,
  tired: TiredFace,
  upright: UprightAtTheShoulder,
  'hand-to-mouth': HandToMouth,
};

/** Without a cue there is no picture: the page stays dark except for the line. */
const STATE_PICTURES: Record<Exclude<Showing, ShownCue> | 'ended', ComponentType | null> = {
  gentle: null,
  'held-steeply': SteepBottle,
  'cannot-tell': UnfeltBottle,
  'no-guidance': PulledPlug,
  'guidance-off': LightOff,
  'cues-withheld': BoxedLight,
  waiting: StandingBottle,
  ended: UprightAtTheShoulder,
};

function pictureOf(of: Showing | 'ended'): ComponentType | null {
  const cue = cueOf(of);
  return cue ? CUE_PICTURES[cue.picture] : STATE_PICTURES[of as keyof typeof STATE_PICTURES];
}

/** The drawing for a state; the words beside it say the same, so it is hidden from screen readers. */
export function Picture({ of }: { of: Showing | 'ended' }) {
  const Drawing = pictureOf(of);
  if (!Drawing) return null;
  return (
    <svg class="picture" data-picture={of} viewBox="0 0 340 240" aria-hidden="true" focusable="false">
      <Drawing />
    </svg>
  );
}
