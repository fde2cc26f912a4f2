/** `ebbline data forget`: a baby and all that belongs to it, deleted for good. Asked twice. */
import { forgottenText, toForgetText } from '../../app/kept/forget-text.ts';
import { forgetting, makeSure } from '../../app/kept/forgetting.ts';
import { type Terminal, THIS_TERMINAL, withTerminal } from '../asking.ts';
import { say } from '../print-out.ts';
import { keptPlace } from '../with-store.ts';
import type { DataGiven } from './commands.ts';

/** @throws PlainError forget-nobody, forget-unsure, store-recording …; then nothing was deleted */
export async function forgetBaby(
  { baby, yes, ...options }: DataGiven<'data forget'>,
  terminal: Terminal = THIS_TERMINAL,
): Promise<void> {
  const whom = await forgetting(keptPlace(options), baby);
  const { name } = whom.kept;
  if (!yes) {
    say(toForgetText(whom));
    if (!terminal.input.isTTY) await makeSure(name, null);
    await withTerminal(({ ask }) => makeSure(name, ask), terminal);
  }
  say(forgottenText(name, await whom.forget()));
}
