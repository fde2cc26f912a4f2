import { checkPaceProfile, type PaceProfile } from './profile.ts';
import { SHIPPED_FIGURES } from './shipped-figures.ts';

/** Checked when this module is loaded: an error in the figures stops the program at once. */
export const SHIPPED_PROFILE: PaceProfile = checkPaceProfile(SHIPPED_FIGURES);
