/** Another sleeve on the same link. */
import { createPreRoll } from '../../../firmware-bridge/links/pre-roll.ts';
import { PRE_ROLL_SEC, type Recorder, type RecorderOptions } from './recorder.ts';
import { endFeed, watchingEngine } from './ending.ts';

/** What is to be known of a sleeve. */
export type SleeveThere = Pick<RecorderOptions, 'calibration' | 'sleeveId'>;

/**
 * The open feed was the sleeve's before and is over; the next is weighed by this one's calibration.
 * @param sleeve  null: one that nothing is known of, and that gives no bytes
 */
export function changeSleeve(recorder: Recorder, sleeve: SleeveThere | null, nowMs: number): void {
  endFeed(recorder, 'link-ended', nowMs);
  if (sleeve === null) return;
  recorder.options = { ...recorder.options, ...sleeve };
  recorder.watcher = watchingEngine(recorder.options);
  recorder.preRoll = createPreRoll(PRE_ROLL_SEC);
  recorder.lastTick = null;
}
