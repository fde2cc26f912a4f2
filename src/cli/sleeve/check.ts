/** `ebbline sleeve check`: the bring-up checklist, live on a built sleeve. */
import { once } from 'node:events';
import { createInterface } from 'node:readline/promises';
import { firstValueFrom } from 'rxjs';
import { createSleeveBoard } from '../../../firmware-bridge/board.ts';
import { hello } from '../../../firmware-bridge/links/hello.ts';
import { createSerialLink } from '../../../firmware-bridge/links/serial-link.ts';
import { CHECKLIST } from '../../../hardware/checklist.ts';
import { calibrationFrom } from '../../app/sleeve/calibration-file.ts';
import { checkedSleeve } from '../../app/sleeve/checked-sleeve.ts';
import { type Talk, walkChecklist } from '../../app/sleeve/checklist-walk.ts';
import { PlainError } from '../../base/errors.ts';

export interface CheckSleeveOptions {
  port: string;
  calibration?: string;
}

/** Exit code 1 when a step did not pass. @throws PlainError when no sleeve answers */
export async function checkSleeve(options: CheckSleeveOptions): Promise<void> {
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
    if (outcomes.some(({ passed }) => passed === false)) process.exitCode = 1;
  } finally {
    close();
    lines.close();
    await link.close();
  }
}
