/** `ebbline nipple …`: what a nipple gives, measured at a kitchen table or on a bench. */

import { passportLine, passportText } from '../../app/teats/passport-text.ts';
import { keepPassport, newestPassports, volumesShown } from '../../app/teats/teat-passports.ts';
import { PlainError } from '../../base/errors.ts';
import { say, sayJson } from '../print-out.ts';
import { withFiles } from '../with-store.ts';

interface Measured {
  name: string;
  ml?: number[];
  shown?: number[];
  scaleStep: number;
  sec: number;
  tilt: number;
  head: number;
  liquid: 'water' | 'formula' | 'milk';
  suction?: number;
  simulated?: boolean;
}

/** @throws PlainError nipple-amounts, teat-trials-wrong, store-… */
export async function measureCommand({
  name,
  ml,
  shown,
  scaleStep,
  sec,
  tilt,
  head,
  liquid,
  suction,
  simulated = false,
}: Measured): Promise<void> {
  if ((ml === undefined) === (shown === undefined)) {
    throw new PlainError(
      'nipple-amounts',
      'What ran out is missing, or given twice.',
      'Give either --shown, what the scale showed after each trial with the cup left on it, or --ml, the mL of each trial.',
    );
  }
  const given = {
    version: 1,
    teat: name,
    liquid,
    suction: suction === undefined ? 'free' : { mmHg: suction },
    tiltDeg: tilt,
    headMm: head,
    atMs: Date.now(),
    scale: { stepGrams: scaleStep, keptOn: shown !== undefined },
    trials: (ml ?? volumesShown(shown!, liquid)).map((volumeMl) => ({ volumeMl, durationSec: sec })),
  };
  const passport = await withFiles({ simulated }, (files) => keepPassport(files, given));
  say(passportText(passport));
}

export async function listCommand({
  json,
  simulated,
}: {
  json?: boolean;
  simulated?: boolean;
}): Promise<void> {
  const passports = await withFiles({ simulated }, newestPassports);
  if (json) return void sayJson(passports);
  say(passports.length === 0 ? 'No nipple was measured yet.' : passports.map(passportLine));
}
