/** `ebbline data check`: looks over what is kept, and with --rebuild makes lost feeds anew from their captures. */
import { checkStore, rebuildStore } from '../../app/kept/check-store.ts';
import { dataFolder } from '../../store/data-folder.ts';
import { counted } from '../counted.ts';

/** Something is not as it should be. */
const EXIT_FINDINGS = 1;
const MOST_NAMED = 50;

/** @throws PlainError check-nothing, store-damaged, store-recording … */
export async function checkStoreCommand({
  rebuild,
  simulated,
}: {
  rebuild?: boolean;
  simulated?: boolean;
}): Promise<void> {
  const folder = dataFolder({ simulated: simulated ?? false });
  const say = (line: string): boolean => process.stdout.write(`${line}\n`);
  if (rebuild) {
    const { feeds, not, putAside } = rebuildStore(folder, Date.now());
    if (putAside) say(`The database could not be used and was put aside: ${putAside}`);
    say(
      `Made ${counted(feeds.length, 'feed')} anew from captures${feeds.length > 0 ? `: ${feeds.join(', ')}` : ''}.`,
    );
    if (feeds.length > 0)
      say('Who was fed, notes and corrections were only in the database and are not in them.');
    for (const { capture, why } of not) say(`Nothing was made of ${capture}: ${why}`);
  }
  const { feeds, captures, findings } = checkStore(folder, true);
  say(`Looked at ${counted(feeds, 'feed')} and ${counted(captures, 'capture')} in ${folder}.`);
  for (const { what } of findings.slice(0, MOST_NAMED)) say(`  ${what}`);
  if (findings.length > MOST_NAMED) say(`  … and ${findings.length - MOST_NAMED} more.`);
  if (findings.length === 0) say('All is as it should be.');
  else process.exitCode = EXIT_FINDINGS;
  if (
    !rebuild &&
    findings.some(({ kind }) => kind === 'capture-without-feed' || kind === 'database-damaged')
  ) {
    say('Feeds can be made anew from captures: ebbline data check --rebuild');
  }
}
