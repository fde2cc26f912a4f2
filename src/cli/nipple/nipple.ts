/** `ebbline nipple …`: what a nipple gives, measured at a kitchen table or on a bench. */

import { keepMeasured, type MeasuredNipple } from '../../app/teats/measured-nipple.ts';
import { passportLine, passportText } from '../../app/teats/passport-text.ts';
import { newestPassports } from '../../app/teats/teat-passports.ts';
import { dataFolder } from '../../store/data-folder.ts';
import { answer, say } from '../print-out.ts';
import type { Kept } from '../with-store.ts';

/** @throws PlainError nipple-amounts, teat-trials-wrong, store-… */
export const measureCommand = (options: MeasuredNipple & Kept): void =>
  say(passportText(keepMeasured(dataFolder(options), options, Date.now())));

export const listCommand = (options: Kept & { json?: boolean }): void =>
  answer(options.json, newestPassports(dataFolder(options)), (passports) =>
    passports.length === 0 ? 'No nipple was measured yet.' : passports.map(passportLine),
  );
