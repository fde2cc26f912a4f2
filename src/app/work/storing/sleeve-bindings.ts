/** Bindings of sleeves from the store, and the settings of their next feeds. */
import { learnedCalibration } from '../../../calibration/walk/history.ts';
import { type Calibration, parseCalibration } from '../../../sensing/index.ts';
import { EMPTY_SETUP } from '../../../store/database/settings.ts';
import type { FeedStore } from '../../../store/feed-store.ts';
import { guideFrom } from '../../babies/babies-service.ts';
import { keptHistory } from '../../sleeve/checked-feeds.ts';
import { guideInStudy } from '../../study/study-feeds.ts';
import { STUDY_CLOCK, studiesAmong } from '../../study/study-folder.ts';
import { guideWithTeats } from '../../teats/teat-passports.ts';
import { type MilkOfBindings, nextSetup } from '../../ward/next-setup.ts';
import type { SleeveBinding } from './store-ops.ts';

/** Cache: the tables of a bottle are made once, even if it is used in many sleeves. */
const bottles = new Map<string, Calibration['bottle']>();

function withKnownBottle(calibration: Calibration): Calibration {
  const text = JSON.stringify(calibration.bottle);
  const bottle = bottles.get(text) ?? calibration.bottle;
  bottles.set(text, bottle);
  return { ...calibration, bottle };
}

/**
 * Reads bindings at one moment: what those of several sleeves share is read once.
 * @param simulated  all sleeves are simulated
 * @returns reads the binding of a sleeve; null where no calibration of it is kept
 * @throws PlainError when the store cannot be read; the same for the returned function
 */
export function bindingsNow(
  store: FeedStore,
  simulated: boolean,
  nowMs: () => number,
  milk: MilkOfBindings = new Map(),
): (sleeveNumber: number) => SleeveBinding | null {
  const scanned = store.ward(({ records }) => records.bindings());
  const babies = store.listBabies();
  const ofFamily = guideWithTeats(
    guideFrom(store, nowMs, simulated, () => babies),
    store.files,
  );
  const guide = guideInStudy(ofFamily, studiesAmong(store.files), STUDY_CLOCK);
  const nobody = guide(EMPTY_SETUP);
  return (sleeveNumber) => {
    const sleeveId = String(sleeveNumber);
    const kept = store.calibrationFor(sleeveId);
    if (!kept) return null;
    const made = parseCalibration(kept, `kept for sleeve ${sleeveId}`);
    const history = keptHistory(store, sleeveId, made).read();
    const { calibration } = learnedCalibration(made, history);
    const bound = scanned.findLast(({ sleeve }) => sleeve === sleeveNumber) ?? null;
    const setup = nextSetup(store, bound, nowMs(), milk);
    const guided = bound === null ? nobody : guide(setup);
    return { calibration, made, history, setup, guided, nobody, bound: bound?.no ?? null, simulated };
  };
}

/** A binding from the thread, with its bottle taken from the cache. */
export const interned = (binding: SleeveBinding): SleeveBinding => ({
  ...binding,
  calibration: withKnownBottle(binding.calibration),
  made: withKnownBottle(binding.made),
});
