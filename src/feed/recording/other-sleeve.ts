/** Change to another sleeve on the same link. */
import { createPreRoll } from '../../../firmware-bridge/links/pre-roll.ts';
import { endFeed, watchingEngine } from './ending.ts';
import { PRE_ROLL_SEC, type Recorder, type RecorderOptions } from './recorder.ts';

/** What must be known of a sleeve. */
export type SleeveThere = Pick<RecorderOptions, 'calibration' | 'sleeveId'>;

/**
 * Ends the open feed of the sleeve before; the next feed uses this sleeve's calibration.
 * @param sleeve  null: a sleeve without a known calibration, whose bytes are not passed on
 */
export function changeSleeve(recorder: Recorder, sleeve: SleeveThere | null, nowMs: number): void {
  endFeed(recorder, 'link-ended', nowMs);
  if (sleeve === null) return;
  recorder.options = { ...recorder.options, ...sleeve };
  recorder.watcher = watchingEngine(recorder.options);
  recorder.preRoll = createPreRoll(PRE_ROLL_SEC);
  recorder.lastTick = null;
}
