/** A nipple measured at a kitchen table or on a bench, as a command is given it. */
import { PlainError } from '../../base/errors.ts';
import type { SideFiles } from '../../store/side-files.ts';
import { keepPassport, type TeatPassport, volumesShown } from './teat-passports.ts';

export interface MeasuredNipple {
  name: string;
  /** mL of each trial; or what the scale showed after each, the cup left on it, g. */
  ml?: number[];
  shown?: number[];
  scaleStep: number;
  sec: number;
  tilt: number;
  head: number;
  liquid: 'water' | 'formula' | 'milk';
  suction?: number;
}

/** @throws PlainError nipple-amounts, teat-trials-wrong, store-… */
export function keepMeasured(files: SideFiles, measured: MeasuredNipple, atMs: number): TeatPassport {
  const { ml, shown, liquid, suction, sec } = measured;
  if ((ml === undefined) === (shown === undefined)) {
    throw new PlainError(
      'nipple-amounts',
      'What ran out is missing, or given twice.',
      'Give either --shown, what the scale showed after each trial with the cup left on it, or --ml, the mL of each trial.',
    );
  }
  return keepPassport(files, {
    version: 1,
    teat: measured.name,
    liquid,
    suction: suction === undefined ? 'free' : { mmHg: suction },
    tiltDeg: measured.tilt,
    headMm: measured.head,
    atMs,
    scale: { stepGrams: measured.scaleStep, keptOn: shown !== undefined },
    trials: (ml ?? volumesShown(shown!, liquid)).map((volumeMl) => ({ volumeMl, durationSec: sec })),
  });
}
