/** What keeps an export from telling who somebody is. */
import type { Allocation } from '../../../research/study/allocation.ts';
import type { StudyFolder } from '../study-folder.ts';

/** Furthest that dates are moved, weeks. */
const SHIFT_WEEKS = 26;
/** Fewer participants than this in a cell may be recognized; common practice, no source. */
const SMALL_CELL = 5;

/** Whole weeks, so that the day of the week stays. Drawn from the participant's code and the study's own key. */
export function dateShifts(study: StudyFolder): Map<string, number> {
  const participants = new Set(study.sessions().map(({ participant }) => participant));
  return new Map(
    [...participants].map((participant) => {
      if (!study.protocol.shiftDates) return [participant, 0];
      const weeks = study.random(`dates of ${participant}`).integer([1, SHIFT_WEEKS]);
      return [participant, -weeks];
    }),
  );
}

/** @param nameOf what an arm is called */
export function smallCells(allocations: readonly Allocation[], nameOf: (arm: string) => string): string[] {
  const counts = new Map<string, number>();
  for (const { arm, stratum, participant } of allocations) {
    if (participant === WITHDRAWN) continue;
    for (const cell of [`arm ${nameOf(arm)}`, `stratum ${stratum}`])
      counts.set(cell, (counts.get(cell) ?? 0) + 1);
  }
  return [...counts].filter(([, count]) => count < SMALL_CELL).map(([cell, count]) => `${cell}: ${count}`);
}

/** Stands in the allocation log where a participant's code was. */
export const WITHDRAWN = 'withdrawn';
