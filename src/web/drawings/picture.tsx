import type { ComponentType } from 'preact';
import type { Showing } from '../../feed/live-view.ts';
import { BurpAtTheShoulder, LookAtFace, LowerTheBottom, OtherArm, UprightAtTheShoulder } from './cues.tsx';
import { PulledPlug, StandingBottle, TwoBars, UnfeltBottle } from './states.tsx';

/** A gentle feed has no picture: the page stays dark but for its line. */
const PICTURES: Record<Showing | 'ended', ComponentType | null> = {
  'tilt-down': LowerTheBottom,
  'keep-low': LowerTheBottom,
  'breath-pause': LowerTheBottom,
  burp: BurpAtTheShoulder,
  'switch-side': OtherArm,
  'offer-stop': LookAtFace,
  'asleep-early': null,
  'lower-is-fine': null,
  'hole-dry': null,
  'little-coming': null,
  'long-feed': null,
  'hold-upright': UprightAtTheShoulder,
  'hunger-again': null,
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
