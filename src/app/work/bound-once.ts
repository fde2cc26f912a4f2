/**
 * What labels bound to a sleeve is for one feed. Once a feed began by it, the next one is nobody's until labels are scanned again, also while the
 * store can neither be asked nor told that the feed is over: one baby's pace must not guide another. Pure.
 */
import { EMPTY_SETUP } from '../../store/database/settings.ts';
import type { Checkpoint } from './checkpoint.ts';
import type { SleeveBinding } from './storing/store-ops.ts';

/** @param used  number of the binding by which a feed began; null: none did */
export const unlessUsed = (binding: SleeveBinding, used: number | null): SleeveBinding =>
  binding.bound !== null && binding.bound === used
    ? { ...binding, setup: EMPTY_SETUP, guided: binding.nobody }
    : binding;

/** @returns the binding that the guide before had used up */
export const usedBefore = (checkpoint: Checkpoint | null): number | null =>
  checkpoint && (checkpoint.feed || checkpoint.binding.setup.babyId == null)
    ? checkpoint.binding.bound
    : null;
