/** `ebbline sleeve check`: the bring-up checklist, on a built sleeve. */
import { createSleeveBoard } from '../../../firmware-bridge/board.ts';
import { refuseTaken, writeWhole } from '../../app/out-file.ts';
import { calibrationFrom } from '../../app/sleeve/calibration-file.ts';
import { checkPageText } from '../../app/sleeve/check-page.ts';
import { walkedCheck } from '../../app/sleeve/checked-sleeve.ts';
import { withSleeveOn } from '../../app/sleeve/sleeve-on-port.ts';
import { certificateHtml } from '../../paper/certificate/certificate-html.ts';
import { withTerminal } from '../asking.ts';
import type { SleeveGiven } from './commands.ts';

/** Exit code 1 if a step did not pass. @throws PlainError if no sleeve answers, or `out` exists already */
export async function checkSleeve({ port, out, ...options }: SleeveGiven<'sleeve check'>): Promise<void> {
  // Checked now rather than after an hour of work.
  if (out !== undefined) refuseTaken(out, options);
  const calibration = options.calibration === undefined ? null : calibrationFrom(options.calibration);
  await withSleeveOn(port, (link, identity) =>
    withTerminal(async (talk) => {
      const board = createSleeveBoard(link);
      try {
        const { page, passed } = await walkedCheck({ link, board, calibration, identity, talk });
        talk.say(`\n${checkPageText(page)}`);
        if (out !== undefined) {
          writeWhole(out, certificateHtml(page), options);
          talk.say(`\nThe page is in ${out}.`);
        }
        if (!passed) process.exitCode = 1;
      } finally {
        board.close();
      }
    }),
  );
}
