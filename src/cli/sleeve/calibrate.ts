/** `ebbline sleeve calibrate`: leads a person through a calibration, and writes the file and its certificate. */
import { checkWalk, walkAsAsked } from '../../app/calibration/begun-walk.ts';
import { byItself, HELP } from '../../app/calibration/guided-walk.ts';
import { closingWords, madeOutcome } from '../../app/calibration/made-outcome.ts';
import { forgetProgress, keepProgress, writeOutcome } from '../../app/calibration/walk-files.ts';
import { refuseTaken } from '../../app/out-file.ts';
import { progressOf } from '../../calibration/walk/walk-state.ts';
import { terminalTalk } from '../asking.ts';
import { say } from '../print-out.ts';
import { progressLine } from '../progress.ts';
import type { SleeveGiven } from './commands.ts';

/** @throws PlainError calibrate-sleeve, calibrate-hands, file-exists … */
export async function calibrate(options: SleeveGiven<'sleeve calibrate'>): Promise<void> {
  const { out = 'sleeve-calibration.json' } = options;
  checkWalk(options);
  refuseTaken(out, options);
  const progressPath = `${out}.walk`;
  const { source, start } = await walkAsAsked(options, progressPath);
  const person = options.byItself ? null : terminalTalk();
  const talk = person ?? byItself((text) => void process.stderr.write(`${text}\n`));
  const progress = progressLine('Calibrating');
  try {
    const walk = start(talk);
    talk.say(`${options.simulated ? 'In simulation: no real sleeve is calibrated. ' : ''}${HELP}`);
    const made = await madeOutcome(walk, source, talk, (now) => {
      keepProgress(progressPath, now);
      const { done, of } = progressOf(now);
      if (options.byItself) progress.at(done, of);
    });
    progress.end();
    if (!made)
      return talk.say(`\nStopped. Run the same command to go on; the walk so far is in ${progressPath}.`);
    const files = await writeOutcome(out, made.walk, made.outcome);
    forgetProgress(progressPath);
    say(`\n${closingWords(made.walk, made.outcome, files)}`);
  } finally {
    person?.close();
    await source.close();
  }
}
