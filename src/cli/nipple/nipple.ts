/** `ebbline nipple …`: what a nipple gives, measured at a kitchen table or on a bench. */
import { keepMeasured, type MeasuredNipple } from '../../app/teats/measured-nipple.ts';
import { passportLine, passportText } from '../../app/teats/passport-text.ts';
import { newestPassports } from '../../app/teats/teat-passports.ts';
import { answer, say } from '../print-out.ts';
import { type Kept, withFiles } from '../with-store.ts';

/** @throws PlainError nipple-amounts, teat-trials-wrong, store-… */
export const measureCommand = (options: MeasuredNipple & Kept): Promise<void> =>
  withFiles(options, (files) => say(passportText(keepMeasured(files, options, Date.now()))));

export const listCommand = (options: Kept & { json?: boolean }): Promise<void> =>
  withFiles(options, (files) =>
    answer(options.json, newestPassports(files), (passports) =>
      passports.length === 0 ? 'No nipple was measured yet.' : passports.map(passportLine),
    ),
  );
