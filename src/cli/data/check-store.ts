/** `ebbline data check`: looks over what is kept, and with --rebuild makes lost feeds anew from their captures. */
import { checkStore, rebuildStore } from '../../app/kept/check-store.ts';
import { checkedText } from '../../app/kept/check-text.ts';
import { dataFolder } from '../../store/data-folder.ts';
import { answer } from '../print-out.ts';
import type { Kept } from '../with-store.ts';

/** Something is not as it should be. */
const EXIT_FINDINGS = 1;

/** @throws PlainError check-nothing, store-damaged, store-recording … */
export async function checkStoreCommand(
  options: Kept & { rebuild?: boolean; json?: boolean },
): Promise<void> {
  const folder = dataFolder(options);
  const rebuilt = options.rebuild ? rebuildStore(folder, Date.now()) : undefined;
  const { feeds, captures, findings } = checkStore(folder, true);
  if (findings.length > 0) process.exitCode = EXIT_FINDINGS;
  answer(options.json, { folder, feeds, captures, findings, ...(rebuilt && { rebuilt }) }, checkedText);
}
