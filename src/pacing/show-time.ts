/** How long a cue is shown if nobody answers it, seconds. */
import type { PaceParams } from './profile.ts';
import type { PatientCue } from './standing.ts';

const SECTIONS = {
  'offer-stop': 'enough',
  'asleep-early': 'enough',
  'breath-pause': 'suckRhythm',
  burp: 'burp',
  'switch-side': 'switchSide',
  'little-coming': 'littleComing',
  'hole-dry': 'cover',
  'lower-is-fine': 'cover',
  'long-feed': 'longFeed',
  'hold-upright': 'after',
  'hunger-again': 'after',
} as const satisfies Record<PatientCue, keyof PaceParams>;

export const showSecOf = (params: PaceParams, kind: PatientCue): number => params[SECTIONS[kind]].showSec;
