/** What the store has bound to sleeves, and what their next feeds run with. */
import { learnedCalibration } from '../../../calibration/walk/notes.ts';
import { type Calibration, parseCalibration } from '../../../sensing/index.ts';
import { EMPTY_SETUP } from '../../../store/database/settings.ts';
import type { FeedStore } from '../../../store/feed-store.ts';
import { guideFrom } from '../../babies/babies-service.ts';
import { guideWithNipples } from '../../nipples/nipple-passports.ts';
import { keptNotes } from '../../sleeve/checked-feeds.ts';
import { guideInStudy } from '../../study/study-feeds.ts';
import { STUDY_CLOCK, studiesAmong } from '../../study/study-folder.ts';
import { type MilkOfBindings, nextSetup } from '../../ward/next-setup.ts';
import type { SleeveBinding } from './kept-ops.ts';

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
  milk: MilkOfBindings = new Map(),
): SleeveBinding | null {
  const sleeveId = String(sleeveNumber);
  const kept = store.calibrationFor(sleeveId);
  if (!kept) return null;
  const made = parseCalibration(kept, `kept for sleeve ${sleeveId}`);
  const notes = keptNotes(store, sleeveId, made).read();
  const { calibration } = learnedCalibration(made, notes);
  const bound =
    store.ward(({ records }) => records.bindings().findLast(({ sleeve }) => sleeve === sleeveNumber)) ?? null;
  const ofFamily = guideWithNipples(guideFrom(store, nowMs, simulated), store.files);
  const guide = guideInStudy(ofFamily, studiesAmong(store.files), STUDY_CLOCK);
  const setup = nextSetup(store, bound, nowMs(), milk);
  const [guided, nobody] = [guide(setup), guide(EMPTY_SETUP)];
  return { calibration, made, notes, setup, guided, nobody, bound: bound?.no ?? null, simulated };
}

/** A binding that came from the thread, with a bottle that is known already. */
export const interned = (binding: SleeveBinding): SleeveBinding => ({
  ...binding,
  calibration: withKnownBottle(binding.calibration),
  made: withKnownBottle(binding.made),
});
