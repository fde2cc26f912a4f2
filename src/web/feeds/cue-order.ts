import type { CueKind } from '../../pacing/cue.ts';

/** The order in which cues are told. */
export const CUE_ORDER: readonly CueKind[] = ['tilt-down', 'burp', 'switch-side', 'offer-stop'];
