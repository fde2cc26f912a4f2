/** A sleeve on a link for the checklist: collects samples for some seconds and weighs the bottle. */

import { type SchedulerLike, timer } from 'rxjs';
import type { SleeveLink } from '../../../firmware-bridge/links/link.ts';
import { monotonic } from '../../../firmware-bridge/links/monotonic.ts';
import { createSampleReader, type TimedSample } from '../../../firmware-bridge/wire/index.ts';
import { mapTriple } from '../../base/typed.ts';
import { gramsFromNewtons, MILK_DENSITY_GRAMS_PER_ML } from '../../base/units.ts';
import { type Calibration, createSensor, type SensedMoment, senseSample } from '../../sensing/index.ts';
import type { CheckedSleeve } from './checklist-walk.ts';

const WEIGH_SEC = 5;

/** Samples and weighings from a link; with a calibration, each sample also goes through a sensor. */
export function listenTo(
  link: SleeveLink,
  calibration: Calibration | null,
  scheduler: SchedulerLike = monotonic,
): Pick<CheckedSleeve, 'collect' | 'weighGrams' | 'calibrated' | 'gramsPerCount'> {
  const sensor = calibration && createSensor(calibration, { refinable: false });
  const listeners = new Set<(sample: TimedSample, moment: SensedMoment | null) => void>();
  const reader = createSampleReader((sample) => {
    const moment = sensor ? senseSample(sensor, sample) : null;
    for (const listener of listeners) listener(sample, moment);
  });
  link.bytes$.subscribe((bytes) => reader.take(bytes));

  /** Listens for this long by the device's clock; if the sleeve falls silent, at most twice as long by the host's. */
  const listen = (seconds: number, take: (sample: TimedSample, moment: SensedMoment | null) => void) =>
    new Promise<void>((resolve) => {
      let firstSec: number | null = null;
      const done = () => {
        limit.unsubscribe();
        listeners.delete(listener);
        resolve();
      };
      const limit = timer((2 * seconds + 2) * 1000, scheduler).subscribe(done);
      const listener = (sample: TimedSample, moment: SensedMoment | null) => {
        firstSec ??= sample.atSec;
        take(sample, moment);
        if (sample.atSec - firstSec >= seconds) done();
      };
      listeners.add(listener);
    });

  return {
    calibrated: sensor !== null,
    gramsPerCount: calibration ? gramsPerCountOf(calibration) : undefined,
    async collect(seconds) {
      const samples: TimedSample[] = [];
      await listen(seconds, (sample) => samples.push(sample));
      return samples;
    },
    async weighGrams() {
      const milk: number[] = [];
      await listen(WEIGH_SEC, (_, moment) => {
        if (moment?.milkMl != null && !moment.teatInMouth) milk.push(moment.milkMl);
      });
      if (milk.length < 20) return null;
      return (milk.reduce((sum, ml) => sum + ml, 0) / milk.length) * MILK_DENSITY_GRAMS_PER_ML;
    },
  };
}

/** The axial cell carries the load along the bottle, the other two across. */
const gramsPerCountOf = ({ loadPerCount: [across, along] }: Calibration) =>
  mapTriple([along[0], across[1], across[2]], gramsFromNewtons);
