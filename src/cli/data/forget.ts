/** `ebbline data forget`: a baby and all that belongs to it, deleted for good. Asked twice. */
import { createInterface } from 'node:readline/promises';
import type { Readable, Writable } from 'node:stream';
import { forgottenText } from '../../app/kept/forget-text.ts';
import { sameName } from '../../base/babies.ts';
import { counted } from '../../base/counted.ts';
import { PlainError } from '../../base/errors.ts';
import { dataFolder } from '../../store/data-folder.ts';
import { type CountedBaby, countOf, type ForgetResult, forgetBaby } from '../../store/portable/forget.ts';
import { forgetInFolder, keptOf } from '../../store/portable/forget-folder.ts';
import type { HeldFolder } from '../../store/portable/held-folder.ts';
import { chosenDatabase, holdKept } from '../with-store.ts';

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
  const { where: folder, kept, forget } = await forgetting(baby, simulated ?? false);
  if (!yes) {
    process.stdout.write(
      `Of ${kept.name} there are ${counted(kept.feeds, 'feed')} and ${counted(kept.handFeeds, 'feed')} written in by hand in ${folder}.\n` +
        'All of it will be deleted for good, captures too. There is no way back but a backup.\n',
    );
    await askTwice(kept.name, asking);
  }
  process.stdout.write(`${forgottenText(kept.name, await forget())}\n`);
}

/** What is deleted, where and how: in the data folder, or at a site of a database. */
async function forgetting(baby: string, simulated: boolean): Promise<Forgetting> {
  if (chosenDatabase() === null) {
    const folder = dataFolder({ simulated });
    return { where: folder, kept: keptOf(folder, baby), forget: async () => forgetInFolder(folder, baby) };
  }
  const held = async <T>(act: (place: HeldFolder) => T): Promise<T> => {
    const place = await holdKept(simulated);
    try {
      return act(place);
    } finally {
      place.close();
    }
  };
  const [where, kept] = await held(({ folder, database }) => [folder, countOf(database, baby)] as const);
  const all = [baby, ...(kept.id === null ? [] : [kept.id]), kept.name];
  return { where, kept, forget: () => held((place) => forgetBaby(place, all)) };
}

interface Forgetting {
  where: string;
  kept: CountedBaby;
  forget(): Promise<ForgetResult>;
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
