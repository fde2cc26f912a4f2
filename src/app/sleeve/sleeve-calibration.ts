/** Which calibration goes with a sleeve. */
import { PlainError } from '../../base/errors.ts';
import { bottleNameOf } from '../../calibration/walk/noted.ts';
import { type Calibration, parseCalibration } from '../../sensing/index.ts';
import type { FeedStore } from '../../store/feed-store.ts';

export interface CalibrationChoice {
  /** File of a calibration. */
  calibration?: string;
  /** Name of the bottle in the sleeve, to choose among stored calibrations. */
  bottle?: string;
  replaceCalibration?: boolean;
}

/** Stored calibrations, by sleeve number. */
export type KnownCalibrations = Pick<FeedStore, 'calibrationFor' | 'calibrations' | 'keepCalibration'>;

/**
 * The calibration to take for a sleeve: the one that is given, which is then kept, or a kept one.
 * @param given  read from its file; null: none was given
 * @throws PlainError calibration-none, calibration-bottle-unknown, calibration-other-sleeve
 */
export function calibrationOf(
  sleeveNumber: string,
  given: Calibration | null,
  choice: CalibrationChoice,
  store: KnownCalibrations,
): Calibration {
  if (given === null && choice.bottle !== undefined)
    return calibrationOfBottle(sleeveNumber, choice.bottle, store);
  const stored = store.calibrationFor(sleeveNumber);
  const kept = stored ? parseCalibration(stored, `kept for sleeve ${sleeveNumber}`) : null;
  if (given === null) {
    if (kept) return kept;
    throw new PlainError(
      'calibration-none',
      `There is no calibration for sleeve ${sleeveNumber}; without one its counts cannot be turned into milk.`,
      'Give its calibration file once with --calibration FILE; it is kept for the next time.',
    );
  }
  checkSleeve(sleeveNumber, given, kept, choice);
  store.keepCalibration(sleeveNumber, given);
  return given;
}

/** The latest kept calibration of this sleeve with the bottle of this name. @throws PlainError calibration-bottle-unknown */
export function calibrationOfBottle(
  sleeveNumber: string,
  bottle: string,
  store: Pick<KnownCalibrations, 'calibrations'>,
): Calibration {
  const kept = store
    .calibrations()
    .filter(({ sleeveId }) => sleeveId === sleeveNumber)
    .map(({ calibration }) => parseCalibration(calibration, `kept for sleeve ${sleeveNumber}`));
  const nameOf = (one: Calibration): string => bottleNameOf(one) ?? 'bottle';
  const found = kept.findLast((one) => nameOf(one).toLowerCase() === bottle.toLowerCase());
  if (found) return found;
  const names = [...new Set(kept.map(nameOf))];
  throw new PlainError(
    'calibration-bottle-unknown',
    `No calibration of sleeve ${sleeveNumber} with a bottle called "${bottle}" is kept${names.length > 0 ? `, only with: ${names.join(', ')}` : ''}.`,
    'Give its file once with --calibration FILE. For a new bottle two minutes do: ebbline sleeve calibrate --way two-minutes --sleeve-from FILE.',
  );
}

/** Refuses a calibration of another sleeve, since it would give wrong but plausible values. */
export function checkSleeve(
  sleeveNumber: string,
  given: Calibration,
  kept: Calibration | null,
  { calibration: file, replaceCalibration }: CalibrationChoice,
): void {
  const madeFor = given.sleeveNumber;
  if (madeFor !== undefined && String(madeFor) !== sleeveNumber) {
    throw new PlainError(
      'calibration-other-sleeve',
      `The calibration ${file} was made for sleeve ${String(madeFor)}, but sleeve ${sleeveNumber} is connected.`,
      'Connect that sleeve, or give the calibration of this one.',
    );
  }
  if (kept && kept.sleeveId !== given.sleeveId && !replaceCalibration) {
    throw new PlainError(
      'calibration-other-sleeve',
      `The calibration ${file} names sleeve "${given.sleeveId}", but sleeve ${sleeveNumber} has so far been "${kept.sleeveId}".`,
      'Give the calibration of this sleeve; if it was really renamed, add --replace-calibration.',
    );
  }
}
