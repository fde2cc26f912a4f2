/** `ebbline data archive`: moves or deletes old captures; everything else of their feeds stays. */

import {
  type ArchiveCommandOptions,
  archiveRuleText,
  askedArchiveRule,
} from '../../app/kept/archive-asked.ts';
import { counted } from '../../base/counted.ts';
import { archiveCaptures, archiveRule, keepArchiveRule } from '../../store/portable/archive.ts';
import { holdKept } from '../with-store.ts';

/** @throws PlainError archive-where, archive-no-folder, store-recording … */
export async function archiveCommand(options: ArchiveCommandOptions): Promise<void> {
  const held = await holdKept(options.simulated ?? false);
  try {
    if (options.stop) keepArchiveRule(held.database, null);
    const rule = askedArchiveRule(options);
    if (rule === null) {
      process.stdout.write(`${archiveRuleText(archiveRule(held.database))}\n`);
      return;
    }
    const { captures, bytes } = archiveCaptures(held, rule, Date.now());
    held.letMonthsGo?.(Date.now());
    if (options.fromNowOn) keepArchiveRule(held.database, rule);
    const what = rule.to === null ? 'Removed' : `Moved to ${rule.to}:`;
    process.stdout.write(
      `${what} ${counted(captures, 'capture')} (${(bytes / 1e6).toFixed(1)} MB). All else of their feeds stays.\n` +
        (options.fromNowOn ? `${archiveRuleText(rule)}\n` : ''),
    );
  } finally {
    held.close();
  }
}
