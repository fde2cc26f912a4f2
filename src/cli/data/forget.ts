/** `ebbline data forget`: a baby and all that belongs to it, deleted for good. Asked twice. */
import { forgottenText } from '../../app/kept/forget-text.ts';
import { forgetting } from '../../app/kept/forgetting.ts';
import { sameName } from '../../base/babies.ts';
import { counted } from '../../base/counted.ts';
import { PlainError } from '../../base/errors.ts';
import { type Terminal, terminalTalk } from '../asking.ts';
import { say } from '../print-out.ts';
import { keptPlace } from '../with-store.ts';
import type { DataGiven } from './commands.ts';

/** @throws PlainError forget-nobody, forget-unsure, store-recording …; then nothing was deleted */
export async function forgetBaby(
  { baby, yes, ...options }: DataGiven<'data forget'>,
  terminal: Terminal = { input: process.stdin, output: process.stdout },
): Promise<void> {
  const { where, kept, forget } = await forgetting(keptPlace(options), baby);
  if (!yes) {
    say([
      `Of ${kept.name} there are ${counted(kept.feeds, 'feed')} and ${counted(kept.handFeeds, 'feed')} written in by hand in ${where}.`,
      'All of it will be deleted for good, captures too. There is no way back but a backup.',
    ]);
    if (!terminal.input.isTTY) throw unsure(': nobody confirmed it', 'Add --yes if you are sure.');
    if (!(await isSure(kept.name, terminal))) throw unsure('', 'Run it again if you are sure.');
  }
  say(forgottenText(kept.name, await forget()));
}

async function isSure(baby: string, terminal: Terminal): Promise<boolean> {
  const { ask, close } = terminalTalk(terminal);
  try {
    const name = await ask('Type the name of the baby to go on: ');
    return name !== null && sameName(name, baby) && (await ask('Delete it all? Type yes: ')) === 'yes';
  } finally {
    close();
  }
}

const unsure = (why: string, remedy: string): PlainError =>
  new PlainError('forget-unsure', `Nothing was deleted${why}.`, remedy);
