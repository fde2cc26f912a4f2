/** What keeps an export from telling who somebody is. */
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
export function smallCells(study: StudyFolder, nameOf: (arm: string) => string): string[] {
  const counts = new Map<string, number>();
  // Where each feed has an arm of its own, everybody is in all of them.
  const hasArm = study.protocol.allocation?.unit !== 'feed';
  for (const { arm, stratum, participant } of study.allocations()) {
    if (participant === WITHDRAWN) continue;
    for (const cell of [...(hasArm ? [`arm ${nameOf(arm)}`] : []), `stratum ${stratum}`])
      counts.set(cell, (counts.get(cell) ?? 0) + 1);
  }
  return [...counts].filter(([, count]) => count < SMALL_CELL).map(([cell, count]) => `${cell}: ${count}`);
}

/** Stands in the allocation log where a participant's code was. */
export const WITHDRAWN = 'withdrawn';

/** Shorter words are more often something else. */
const SHORTEST_NAME = 3;

/**
 * Free text and codes go into an export as they were typed: do names of the families stand in them?
 * @param texts what was typed, by where it stands @param names of babies and caregivers
 * @returns where a name stands as a word of its own, whatever its case
 */
export function namesIn(texts: ReadonlyMap<string, string>, names: Iterable<string | null>): string[] {
  const words = (text: string): string[] => text.toLowerCase().split(/[^\p{L}\p{N}]+/u);
  const known = new Set(
    [...names].flatMap((name) => words(name ?? '')).filter((one) => one.length >= SHORTEST_NAME),
  );
  return [...texts].filter(([, text]) => words(text).some((word) => known.has(word))).map(([where]) => where);
}

/** What was typed freely and stands in an export: whoever hands it on should read it once more. */
export function freeTexts(study: StudyFolder): Map<string, string> {
  const { title, arms } = study.protocol;
  const codes = new Set(study.sessions().map(({ participant }) => participant));
  return new Map([
    ['title', title],
    ...arms.map(({ code }) => [`arm ${code}`, code] as const),
    ...[...codes].map((code) => [`participant ${code}`, code] as const),
  ]);
}
