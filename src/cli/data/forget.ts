/** `ebbline data forget`: a baby and all that belongs to it, deleted for good. Asked twice. */
import { createInterface } from 'node:readline/promises';
import type { Readable, Writable } from 'node:stream';
import { forgottenText } from '../../app/kept/forget-text.ts';
import { sameName } from '../../base/babies.ts';
import { counted } from '../../base/counted.ts';
import { PlainError } from '../../base/errors.ts';
import { dataFolder } from '../../store/data-folder.ts';
import { forgetInFolder, keptOf } from '../../store/portable/forget-folder.ts';

/** The terminal, or its replacement in a test. */
interface Asking {
  input: Readable & { isTTY?: boolean };
  output: Writable;
}

/** @throws PlainError forget-nobody, forget-unsure, store-recording …; then nothing was deleted */
export async function forgetCommand(
  baby: string,
  { yes, simulated }: { yes?: boolean; simulated?: boolean },
  asking: Asking = { input: process.stdin, output: process.stdout },
): Promise<void> {
  const folder = dataFolder({ simulated: simulated ?? false });
  const kept = keptOf(folder, baby);
  if (!yes) {
    process.stdout.write(
      `Of ${kept.name} there are ${counted(kept.feeds, 'feed')} and ${counted(kept.handFeeds, 'feed')} written in by hand in ${folder}.\n` +
        'All of it will be deleted for good, captures too. There is no way back but a backup.\n',
    );
    await askTwice(kept.name, asking);
  }
  process.stdout.write(`${forgottenText(kept.name, forgetInFolder(folder, baby))}\n`);
}

async function askTwice(baby: string, { input, output }: Asking): Promise<void> {
  if (!input.isTTY) {
    throw new PlainError(
      'forget-unsure',
      'Nothing was deleted: nobody confirmed it.',
      'Add --yes if you are sure.',
    );
  }
  const terminal = createInterface({ input, output });
  try {
    const name = await terminal.question('Type the name of the baby to go on: ');
    const sure = sameName(name, baby) && (await terminal.question('Delete it all? Type yes: '));
    if (sure !== 'yes')
      throw new PlainError('forget-unsure', 'Nothing was deleted.', 'Run it again if you are sure.');
  } finally {
    terminal.close();
  }
}
