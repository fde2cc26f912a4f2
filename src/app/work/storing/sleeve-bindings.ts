/** What the store has bound to sleeves, and what their next feeds run with. */
import { learnedCalibration } from '../../../calibration/walk/history.ts';
import type { FeedSetup } from '../../../feed/record/feed.ts';
import { type Calibration, parseCalibration } from '../../../sensing/index.ts';
import { EMPTY_SETUP } from '../../../store/database/settings.ts';
import type { FeedStore } from '../../../store/feed-store.ts';
import { guideFrom } from '../../babies/babies-service.ts';
import { keptHistory } from '../../sleeve/checked-feeds.ts';
import type { SleeveBinding } from './store-ops.ts';

/** The same bottle in many sleeves is one: its tables are made once. */
const bottles = new Map<string, Calibration['bottle']>();

function withKnownBottle(calibration: Calibration): Calibration {
  const text = JSON.stringify(calibration.bottle);
  const bottle = bottles.get(text) ?? calibration.bottle;
  bottles.set(text, bottle);
  return { ...calibration, bottle };
}

/**
 * @param simulated  simulated babies drink from all of them
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

/** The answers of before the last feed are of one family: in a house of many the next feed is nobody's, until labels say whose. */
function setupOf(store: FeedStore, babyId: string | null): FeedSetup {
  if (babyId === null) return EMPTY_SETUP;
  const { name = null, birthDate = null } = store.getBaby(babyId) ?? {};
  return { ...EMPTY_SETUP, babyId, babyName: name, babyBirthDate: birthDate };
}

/** A binding that came from the thread, with a bottle that is known already. */
export const interned = (binding: SleeveBinding): SleeveBinding => ({
  ...binding,
  calibration: withKnownBottle(binding.calibration),
});
