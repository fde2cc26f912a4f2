/** Frozen milk that a plan uses: when it goes from the freezer into the fridge, and its state by then. Pure. */
import { DAY_MS, HOUR_MS } from '../../base/calendar.ts';
import type { Container } from './milk.ts';
import { moved } from './milk-stays.ts';
import { isFrozen } from './places.ts';

/** "Overnight in the refrigerator" (CDC); as hours: common practice, no source. */
const THAW_HOURS = 12;
const MINUTE_MS = 60_000;

/**
 * The night before the parent leaves; for a long time away later, so that the published 24 hours of thawed milk, counted from leaving the
 * freezer, are not over before the parent is back.
 */
export const takeOutMs = ({ fromMs, untilMs }: { fromMs: number; untilMs: number }): number =>
  Math.min(fromMs, Math.max(fromMs - THAW_HOURS * HOUR_MS, untilMs - DAY_MS + MINUTE_MS));

/** @returns the container as it will be once it was taken out for that time away; others unchanged */
export function asPlanned(container: Container, away: { fromMs: number; untilMs: number }): Container {
  if (!isFrozen(container)) return container;
  const sinceMs = Math.max(takeOutMs(away), container.strands.at(-1)!.stays.at(-1)!.sinceMs);
  return {
    ...container,
    place: 'fridge',
    thawedAtMs: sinceMs,
    strands: moved(container.strands, { sinceMs, place: 'fridge' }),
  };
}
