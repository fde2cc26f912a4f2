/**
 * What labels bound to a sleeve is for one feed. Once a feed began by it, the next one is nobody's until labels are scanned again, also while the
 * store can neither be asked nor told that the feed is over: one baby's pace must not guide another. Pure.
 */
import { EMPTY_SETUP } from '../../store/database/settings.ts';
import type { SleeveBinding } from './keeping/kept-ops.ts';
import type { SleeveNote } from './sleeve-note.ts';

/** @param used  number of the binding by which a feed began; null: none did */
export const unlessUsed = (binding: SleeveBinding, used: number | null): SleeveBinding =>
  binding.bound !== null && binding.bound === used
    ? { ...binding, setup: EMPTY_SETUP, guided: binding.nobody }
    : binding;

/** @returns the binding that the guide before had used up */
export const usedBefore = (note: SleeveNote | null): number | null =>
  note && (note.feed || note.binding.setup.babyId == null) ? note.binding.bound : null;
