/**
 * A binding of labels to a sleeve is for one feed. Once a feed has begun with it, the next feed has no baby until labels are scanned again, also while
 * the store cannot be reached: one baby's pace must not guide another. Pure.
 */
import { EMPTY_SETUP } from '../../store/database/settings.ts';
import type { Checkpoint } from './checkpoint.ts';
import type { SleeveBinding } from './storing/store-ops.ts';

/** @param used  number of the binding used by a feed; null: none */
export const unlessUsed = (binding: SleeveBinding, used: number | null): SleeveBinding =>
  binding.bound !== null && binding.bound === used
    ? { ...binding, setup: EMPTY_SETUP, guided: binding.nobody }
    : binding;

/** @returns number of the binding that the previous guide had used */
export const usedBefore = (checkpoint: Checkpoint | null): number | null =>
  checkpoint && (checkpoint.feed || checkpoint.binding.setup.babyId == null)
    ? checkpoint.binding.bound
    : null;
