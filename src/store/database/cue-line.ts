/** A cue as a line of the database: its reason is JSON in the column that held sentences in old versions; no sentence begins with a brace. Pure. */
import { ownJson } from '../../base/typed.ts';
import type { KeptCue } from '../../pacing/cues/cue.ts';
import type { KeptReason } from '../../pacing/cues/reason.ts';

export type CueLine = Omit<KeptCue, 'because'> & { because: string };

export const reasonToText = (because: KeptReason): string =>
  typeof because === 'string' ? because : JSON.stringify(because);

export const cueFromLine = ({ because, ...cue }: CueLine): KeptCue => ({
  ...cue,
  because: because.startsWith('{') ? ownJson<KeptReason>(because) : because,
});
