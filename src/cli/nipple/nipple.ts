/** `ebbline nipple …`: what a nipple gives, measured at a kitchen table or on a bench. */
import {
  keepPassport,
  newestPassports,
  type TeatPassport,
  volumesShown,
} from '../../app/nipples/nipple-passports.ts';
import { PlainError } from '../../base/errors.ts';
import { dataFolder } from '../../store/data-folder.ts';
import { say, sayJson } from '../print-out.ts';

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
export function measureCommand({
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
}: Measured): void {
  if ((ml === undefined) === (shown === undefined)) {
    throw new PlainError(
      'nipple-amounts',
      'What ran out is missing, or given twice.',
      'Give either --shown, what the scale showed after each trial with the cup left on it, or --ml, the mL of each trial.',
    );
  }
  const passport = keepPassport(dataFolder({ simulated }), {
    version: 1,
    teat: name,
    liquid,
    suction: suction === undefined ? 'free' : { mmHg: suction },
    tiltDeg: tilt,
    headMm: head,
    atMs: Date.now(),
    scale: { stepGrams: scaleStep, keptOn: shown !== undefined },
    trials: (ml ?? volumesShown(shown!, liquid)).map((volumeMl) => ({ volumeMl, durationSec: sec })),
  });
  say(passportText(passport));
}

export function listCommand({ json, simulated = false }: { json?: boolean; simulated?: boolean }): void {
  const passports = newestPassports(dataFolder({ simulated }));
  if (json) return void sayJson(passports);
  say(passports.length === 0 ? 'No nipple was measured yet.' : passports.map(lineOf));
}

const flow = ({ flowMlPerMin, lowMlPerMin, highMlPerMin }: TeatPassport): string =>
  `${flowMlPerMin.toFixed(1)} mL/min (95 %: ${lowMlPerMin.toFixed(1)} to ${highMlPerMin.toFixed(1)})`;

const how = ({ conditions: { suction, liquid } }: TeatPassport): string =>
  suction === 'free' ? `by itself, ${liquid}` : `under ${suction.mmHg} mmHg, ${liquid}`;

const lineOf = (passport: TeatPassport): string =>
  `${new Date(passport.atMs).toISOString().slice(0, 10)}  ${flow(passport)} ${how(passport)}  ${passport.teat}`;

function passportText(passport: TeatPassport): string[] {
  const { trials, trialsFor5Percent, coefficientOfVariation, holeMm, wear, teat } = passport;
  return [
    `${teat}: ${flow(passport)} ${how(passport)}, ${trials} trials.`,
    `Trials varied by ${(100 * coefficientOfVariation).toFixed(0)} % (published for nipples of one kind: 3 to 61 %); ${
      trialsFor5Percent === null
        ? 'more of such trials would not give the mean to 5 %: take longer ones, or leave the cup on the scale (--shown)'
        : `${trialsFor5Percent} trials would give the mean to 5 %`
    }.`,
    ...(holeMm
      ? [
          `As a round hole: ${holeMm.least.toFixed(2)} to ${holeMm.most.toFixed(2)} mm; the formula is uncertain for so small a hole.`,
        ]
      : []),
    ...(wear
      ? [
          `${wear.ratio.toFixed(2)} times what it gave when it was last measured so${wear.isClear ? ': it has changed; look at its hole' : ', which may be chance'}.`,
        ]
      : []),
    'It tells nothing of what is right for a baby: go by baby.',
  ];
}
