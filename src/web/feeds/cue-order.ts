import type { CueKind } from '../../pacing/cue.ts';

/** The order in which cues are told. */
export const CUE_ORDER: readonly CueKind[] = [
  'tilt-down',
  'burp',
  'switch-side',
  'offer-stop',
  'asleep-early',
  'breath-pause',
  'hole-dry',
  'lower-is-fine',
  'little-coming',
  'long-feed',
  'hold-upright',
  'hunger-again',
];
