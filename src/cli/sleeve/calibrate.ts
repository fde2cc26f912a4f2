/** `ebbline sleeve calibrate`: leads a person through a calibration, and writes the file and its certificate. */
import {
  newWalk,
  type WalkOptions,
  walkOfAnotherBottle,
  walkTakenUp,
} from '../../app/calibration/begun-walk.ts';
import { HELP, MARKS_TEXT } from '../../app/calibration/guided-walk.ts';
import { type HoldSource, serialHolds, simulatedHolds } from '../../app/calibration/hold-source.ts';
import { closingWords, madeOutcome } from '../../app/calibration/made-outcome.ts';
import {
  finishedWalk,
  forgetProgress,
  keepProgress,
  outlineFrom,
  progressFrom,
  writeOutcome,
} from '../../app/calibration/walk-files.ts';
import { refuseTaken } from '../../app/out-file.ts';
import { PlainError } from '../../base/errors.ts';
import { progressOf, type WalkState } from '../../calibration/walk/walk-state.ts';
import { say } from '../print-out.ts';
import { progressLine } from '../progress.ts';
import { silentTalk, terminalTalk } from './talk.ts';

export interface CalibrateOptions extends WalkOptions {
  port?: string;
  simulated?: boolean;
  byItself?: boolean;
  out?: string;
  force?: boolean;
  outline?: string;
  /** A calibration of this sleeve with another bottle, written by this command. */
  sleeveFrom?: string;
  fresh?: boolean;
}

export async function calibrateCommand(options: CalibrateOptions): Promise<void> {
  checkWhich(options);
  const { out = 'sleeve-calibration.json', force = false } = options;
  refuseTaken(out, { force });
  const progressPath = `${out}.walk`;
  if (options.fresh) forgetProgress(progressPath);
  const begun = progressFrom(progressPath);
  const before = options.sleeveFrom === undefined ? null : finishedWalk(options.sleeveFrom);
  const outlineMm = options.outline === undefined ? null : outlineFrom(options.outline);
  const source = await sourceFor(options, begun ?? before, before !== null);
  const { talk, close } = options.byItself ? silentTalk() : terminalTalk();
  const progress = progressLine('Calibrating');
  try {
    const start = begun
      ? walkTakenUp(begun, source, talk)
      : before
        ? walkOfAnotherBottle(before, options, source, outlineMm)
        : newWalk(options, source, outlineMm);
    if (!begun && !before) talk.say(MARKS_TEXT);
    talk.say(`${options.simulated ? 'In simulation: no real sleeve is calibrated. ' : ''}${HELP}`);
    const made = await madeOutcome(start, source, talk, (walk) => {
      keepProgress(progressPath, walk);
      const { done, of } = progressOf(walk);
      if (options.byItself) progress.at(done, of);
    });
    progress.end();
    if (!made) {
      talk.say(`\nStopped. Run the same command to go on; the walk so far is in ${progressPath}.`);
      return;
    }
    const files = await writeOutcome(out, made.walk, made.outcome);
    forgetProgress(progressPath);
    say(`\n${closingWords(made.walk, made.outcome, files)}`);
  } finally {
    close();
    await source.close();
  }
}

/** @throws PlainError calibrate-sleeve, calibrate-hands */
function checkWhich({ port, simulated, byItself }: CalibrateOptions): void {
  if ((port === undefined) === !simulated) {
    throw new PlainError(
      'calibrate-sleeve',
      'Which sleeve is to be calibrated?',
      'Give its port with --port DEVICE, or try the walk with --simulated.',
    );
  }
  if (byItself && !simulated) {
    throw new PlainError('calibrate-hands', 'A real sleeve needs real hands.', 'Leave out --by-itself.');
  }
}

const sourceFor = (
  { port, seed }: CalibrateOptions,
  walk: WalkState | null,
  isAnotherBottle: boolean,
): Promise<HoldSource> =>
  port === undefined ? simulatedHolds(seed, walk, seed + (isAnotherBottle ? 1 : 0)) : serialHolds(port);
