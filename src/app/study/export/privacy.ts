/** Measures against identification of participants in an export. */
import type { StudyFolder } from '../study-folder.ts';

/** Largest shift of dates, weeks. */
const SHIFT_WEEKS = 26;
/** In a cell with fewer participants than this somebody may be identified; common practice, no source. */
const SMALL_CELL = 5;

/** Whole weeks, so that the day of the week is preserved. Drawn from the participant's code and the study's own key. */
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

/** @param nameOf gives the name of an arm */
export function smallCells(study: StudyFolder, nameOf: (arm: string) => string): string[] {
  const counts = new Map<string, number>();
  // If each feed has its own arm, every participant is in all arms.
  const hasArm = study.protocol.allocation?.unit !== 'feed';
  for (const { arm, stratum, participant } of study.allocations()) {
    if (participant === WITHDRAWN) continue;
    for (const cell of [...(hasArm ? [`arm ${nameOf(arm)}`] : []), `stratum ${stratum}`])
      counts.set(cell, (counts.get(cell) ?? 0) + 1);
  }
  return [...counts].filter(([, count]) => count < SMALL_CELL).map(([cell, count]) => `${cell}: ${count}`);
}

/** Replaces a withdrawn participant's code in the allocation log. */
export const WITHDRAWN = 'withdrawn';

/** Shorter names are not searched, since they are often other words. */
const SHORTEST_NAME = 3;

/**
 * Free text and codes are exported as typed; this finds names of the families in them.
 * @param texts the typed texts by their place @param names of babies and caregivers
 * @returns places where a name occurs as a separate word, in any case
 */
export function namesIn(texts: ReadonlyMap<string, string>, names: Iterable<string | null>): string[] {
  const words = (text: string): string[] => text.toLowerCase().split(/[^\p{L}\p{N}]+/u);
  const known = new Set(
    [...names].flatMap((name) => words(name ?? '')).filter((one) => one.length >= SHORTEST_NAME),
  );
  return [...texts].filter(([, text]) => words(text).some((word) => known.has(word))).map(([where]) => where);
}

/** Free text in an export, which a person should read before handing it on. */
export function freeTexts(study: StudyFolder): Map<string, string> {
  const { title, arms } = study.protocol;
  const codes = new Set(study.sessions().map(({ participant }) => participant));
  return new Map([
    ['title', title],
    ...arms.map(({ code }) => [`arm ${code}`, code] as const),
    ...[...codes].map((code) => [`participant ${code}`, code] as const),
  ]);
}
