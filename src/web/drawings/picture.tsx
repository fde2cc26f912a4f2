import type { ComponentType } from 'preact';
import type { Showing } from '../../feed/live-view.ts';
import { BurpAtTheShoulder, LookAtFace, LowerTheBottom, OtherArm, UprightAtTheShoulder } from './cues.tsx';
import {
  BottleStaysLow,
  DryHole,
  HandToMouth,
  LookAtTeat,
  LowerWillDo,
  SoundAsleep,
  TimeToBreathe,
  TiredFace,
} from './family-cues.tsx';
import { PulledPlug, StandingBottle, TwoBars, UnfeltBottle } from './states.tsx';

/** A gentle feed has no picture: the page stays dark but for its line. */
const PICTURES: Record<Showing | 'ended', ComponentType | null> = {
  'tilt-down': LowerTheBottom,
  'keep-low': BottleStaysLow,
  'breath-pause': TimeToBreathe,
  burp: BurpAtTheShoulder,
  'last-burp': BurpAtTheShoulder,
  'switch-side': OtherArm,
  'offer-stop': LookAtFace,
  'asleep-early': SoundAsleep,
  'lower-is-fine': LowerWillDo,
  'hole-dry': DryHole,
  'little-coming': LookAtTeat,
  'long-feed': TiredFace,
  'hold-upright': UprightAtTheShoulder,
  'hunger-again': HandToMouth,
  gentle: null,
  'cannot-tell': UnfeltBottle,
  'no-guidance': PulledPlug,
  'guidance-off': TwoBars,
  waiting: StandingBottle,
  ended: UprightAtTheShoulder,
};

/** The drawing for a state; the words beside it say the same, so it is hidden from screen readers. */
export function Picture({ of }: { of: Showing | 'ended' }) {
  const Drawing = PICTURES[of];
  if (!Drawing) return null;
  return (
    <svg class="picture" data-picture={of} viewBox="0 0 340 240" aria-hidden="true" focusable="false">
      <Drawing />
    </svg>
  );
}
