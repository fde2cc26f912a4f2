/** What a nipple gives, measured at a kitchen table or on a bench. */
import { keepMeasured } from '../../app/teats/measured-nipple.ts';
import { passportLine, passportText } from '../../app/teats/passport-text.ts';
import { newestPassports } from '../../app/teats/teat-passports.ts';
import { shown } from '../print-out.ts';
import { onFiles } from '../with-store.ts';
import type { NippleRuns } from './commands.ts';

export const runs: NippleRuns = {
  'nipple measure': onFiles((files, given) => passportText(keepMeasured(files, given, Date.now()))),
  'nipple list': onFiles((files, { json }) =>
    shown(json, newestPassports(files), (passports) =>
      passports.length === 0 ? 'No nipple was measured yet.' : passports.map(passportLine),
    ),
  ),
};
