/** `ebbline sleeve check`: the bring-up checklist, live on a built sleeve. */
import { once } from 'node:events';
import { createInterface } from 'node:readline/promises';
import { firstValueFrom } from 'rxjs';
import { createSleeveBoard } from '../../../firmware-bridge/board.ts';
import { hello } from '../../../firmware-bridge/links/hello.ts';
import { createSerialLink } from '../../../firmware-bridge/links/serial-link.ts';
import { CHECKLIST } from '../../../hardware/checklist.ts';
import { calibrationFrom } from '../../app/sleeve/calibration-file.ts';
import { type CheckedSleeve, type Talk, walkChecklist } from '../../app/sleeve/checklist-walk.ts';
import { listenTo } from '../../app/sleeve/listened-sleeve.ts';
import { PlainError } from '../../base/errors.ts';

export interface CheckSleeveOptions {
  port: string;
  calibration?: string;
}

const HEARTBEAT_MS = 500;

/** Exit code 1 when a step did not pass. @throws PlainError when no sleeve answers */
export async function checkSleeve(options: CheckSleeveOptions): Promise<void> {
  const calibration = options.calibration === undefined ? null : calibrationFrom(options.calibration);
  const link = createSerialLink(options.port);
  await link.open();
  const heartbeats: NodeJS.Timeout[] = [];
  const lines = createInterface({ input: process.stdin, output: process.stdout });
  const nobody = once(lines, 'close').then((): never => {
    throw new PlainError(
      'nobody-answers',
      'The check asks questions, and the input has ended.',
      'Run it in a terminal, and again from the start.',
    );
  });
  nobody.catch(() => {});
  try {
    const { sleeveNumber, firmwareVersion } = await firstValueFrom(hello(link));
    const board = createSleeveBoard(link);
    heartbeats.push(setInterval(() => board.heartbeat(true), HEARTBEAT_MS));
    const talk: Talk = {
      say: (text) => process.stdout.write(`${text}\n`),
      ask: async (question) => (await Promise.race([lines.question(question), nobody])).trim(),
    };
    talk.say(
      `Sleeve ${sleeveNumber}, firmware ${firmwareVersion.join('.')}. No baby, no milk: water and hands only.`,
    );
    const sleeve: CheckedSleeve = {
      ...listenTo(link, calibration),
      showLight: (on) =>
        board.setLight(on ? { red: 200, green: 200, blue: 200 } : { red: 0, green: 0, blue: 0 }),
      playTone: () => board.sound({ frequencyHz: 440, onMs: 200, offMs: 200, repeats: 3 }),
    };
    const outcomes = await walkChecklist(CHECKLIST, sleeve, talk);
    board.setLight({ red: 0, green: 0, blue: 0 });
    board.close();
    if (outcomes.some(({ passed }) => passed === false)) process.exitCode = 1;
  } finally {
    for (const timer of heartbeats) clearInterval(timer);
    lines.close();
    await link.close();
  }
}
