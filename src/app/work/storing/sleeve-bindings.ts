/** Bindings of sleeves from the store, and the settings of their next feeds. */
import { learnedCalibration } from '../../../calibration/walk/history.ts';
import type { FeedSetup } from '../../../feed/record/feed.ts';
import { type Calibration, parseCalibration } from '../../../sensing/index.ts';
import { EMPTY_SETUP } from '../../../store/database/settings.ts';
import type { FeedStore } from '../../../store/feed-store.ts';
import { guideFrom } from '../../babies/babies-service.ts';
import { keptHistory } from '../../sleeve/checked-feeds.ts';
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
 * @param simulated  all sleeves are simulated
 * @returns null where no calibration of this sleeve is kept
 * @throws PlainError when the store cannot be read
 */
export function bindingOf(
  store: FeedStore,
  sleeveNumber: number,
  simulated: boolean,
  nowMs: () => number,
): SleeveBinding | null {
  const sleeveId = String(sleeveNumber);
  const kept = store.calibrationFor(sleeveId);
  if (!kept) return null;
  const made = parseCalibration(kept, `kept for sleeve ${sleeveId}`);
  const { calibration } = learnedCalibration(made, keptHistory(store, sleeveId, made).read());
  const bound = store.ward(({ records }) =>
    records.bindings().findLast(({ sleeve }) => sleeve === sleeveNumber),
  );
  const guide = guideFrom(store, nowMs, simulated);
  const setup = setupOf(store, bound?.babyId ?? null);
  const [guided, nobody] = [guide(setup), guide(EMPTY_SETUP)];
  return { calibration, setup, guided, nobody, bound: bound?.no ?? null, simulated };
}

/** At home the last answers are the default of the next feed; on a ward the next feed has no baby until labels are scanned. */
function setupOf(store: FeedStore, babyId: string | null): FeedSetup {
  if (babyId === null) return EMPTY_SETUP;
  const { name = null, birthDate = null } = store.getBaby(babyId) ?? {};
  return { ...EMPTY_SETUP, babyId, babyName: name, babyBirthDate: birthDate };
}

/** A binding from the thread, with its bottle taken from the cache. */
export const interned = (binding: SleeveBinding): SleeveBinding => ({
  ...binding,
  calibration: withKnownBottle(binding.calibration),
});
