/** Which milk goes into which bottle: containers in order of use, bottles in order of use, nothing used twice. */
import type { Container } from '../milk/milk.ts';

export interface Packed {
  role: 'feed' | 'top-up' | 'spare';
  ml: number;
  from: { id: string; ml: number }[];
}

/** What stays in a container that was poured from. */
export interface Rest {
  id: string;
  ml: number;
  /** It was frozen: thawed for this plan, so that its published 24 hours run. */
  thawedForThis: boolean;
}

/** Less than this is a drop. */
const DROP_ML = 0.01;

/** @param containers in order of use, together at least as much as the bottles hold */
export function fillBottles(
  wanted: readonly { role: Packed['role']; ml: number }[],
  containers: readonly Container[],
): { bottles: Packed[]; rests: Rest[] } {
  let at = 0;
  let leftMl = containers[0]?.volumeMl ?? 0;
  const bottles = wanted.map(({ role, ml }) => {
    const from: Packed['from'] = [];
    let missing = ml;
    while (missing > DROP_ML && at < containers.length) {
      const poured = Math.min(missing, leftMl);
      if (poured > DROP_ML) from.push({ id: containers[at]!.id, ml: poured });
      missing -= poured;
      leftMl -= poured;
      if (leftMl <= DROP_ML) {
        at += 1;
        leftMl = containers[at]?.volumeMl ?? 0;
      }
    }
    return { role, ml, from };
  });
  const open = containers[at];
  const touched = open && leftMl < open.volumeMl - DROP_ML;
  const rests = touched ? [{ id: open.id, ml: leftMl, thawedForThis: open.place === 'freezer' }] : [];
  return { bottles, rests };
}
