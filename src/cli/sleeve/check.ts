/** `ebbline sleeve check`: the bring-up checklist, on a built sleeve. */
import { once } from 'node:events';
import { createInterface } from 'node:readline/promises';
import { firstValueFrom } from 'rxjs';
import { createSleeveBoard } from '../../../firmware-bridge/board.ts';
import { hello } from '../../../firmware-bridge/links/hello.ts';
import { createSerialLink } from '../../../firmware-bridge/links/serial-link.ts';
import { CHECKLIST } from '../../../hardware/bring-up/checklist.ts';
import { refuseTaken, writeWhole } from '../../app/out-file.ts';
import { calibrationFrom } from '../../app/sleeve/calibration-file.ts';
import { checkPage, checkPageText } from '../../app/sleeve/check-page.ts';
import { checkedSleeve } from '../../app/sleeve/checked-sleeve.ts';
import { type Talk, walkChecklist } from '../../app/sleeve/checklist-walk.ts';
import { PlainError } from '../../base/errors.ts';
import { certificateHtml } from '../../paper/certificate/certificate-html.ts';

export interface CheckSleeveOptions {
  port: string;
  calibration?: string;
  /** HTML file for the results. */
  out?: string;
  force?: boolean;
}

/** Exit code 1 if a step did not pass. @throws PlainError if no sleeve answers, or `out` exists already */
export async function checkSleeve(options: CheckSleeveOptions): Promise<void> {
  // Checked now rather than after an hour of work.
  if (options.out !== undefined) refuseTaken(options.out, options);
  const calibration = options.calibration === undefined ? null : calibrationFrom(options.calibration);
  const link = createSerialLink(options.port);
  await link.open();
  const lines = createInterface({ input: process.stdin, output: process.stdout });
  const nobody = once(lines, 'close').then((): never => {
    throw new PlainError(
      'nobody-answers',
      'The check asks questions, and the input has ended.',
      'Run it in a terminal, and again from the start.',
    );
  });
  nobody.catch(() => {});
  let close = (): void => {};
  try {
    const { sleeveNumber, firmwareVersion } = await firstValueFrom(hello(link));
    const board = createSleeveBoard(link);
    const talk: Talk = {
      say: (text) => process.stdout.write(`${text}\n`),
      ask: async (question) => (await Promise.race([lines.question(question), nobody])).trim(),
    };
    talk.say(
      `Sleeve ${sleeveNumber}, firmware ${firmwareVersion.join('.')}. No baby, no milk: water and hands only.`,
    );
    const sleeve = checkedSleeve(link, board, calibration);
    close = () => {
      sleeve.close();
      board.close();
    };
    const outcomes = await walkChecklist(CHECKLIST, sleeve, talk);
    const page = checkPage(CHECKLIST, outcomes, {
      sleeveNumber,
      firmwareVersion,
      checkedOn: new Date().toLocaleDateString('en-US', { dateStyle: 'long' }),
      calibrated: calibration !== null,
    });
    talk.say(`\n${checkPageText(page)}`);
    if (options.out !== undefined) {
      writeWhole(options.out, certificateHtml(page), options);
      talk.say(`\nThe page is in ${options.out}.`);
    }
    if (outcomes.some(({ passed }) => passed === false)) process.exitCode = 1;
  } finally {
    close();
    lines.close();
    await link.close();
  }
}
