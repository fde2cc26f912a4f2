import { checkPaceProfile, type PaceProfile } from './profile.ts';
import { SHIPPED_FIGURES } from './shipped-figures.ts';

/** Checked when this module is loaded: a slip in it stops the program at the start. */
export const SHIPPED_PROFILE: PaceProfile = checkPaceProfile(SHIPPED_FIGURES);
