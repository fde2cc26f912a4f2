/** The places where milk was stored, one stay after another. Times (milk-times.ts) are computed from this and never stored. */
import type { ContainerNow, MilkKind } from './milk.ts';
import { isFrozen, type Place } from './places.ts';

export interface Stay {
  sinceMs: number;
  place: Place;
  /** It was frozen and is no longer. Stays true, like `warmed`. */
  thawed: boolean;
  warmed: boolean;
}

/** One part of the milk in a container, with all its stays since it was expressed or made (at least one), in order of time. */
export interface Strand {
  kind: MilkKind;
  stays: readonly Stay[];
}

type Change = Pick<Stay, 'sinceMs' | 'place'> & Partial<Stay>;

/** @returns the strands with one more stay; milk taken out of the freezer counts as thawed from then on */
export const moved = (strands: readonly Strand[], change: Change): Strand[] =>
  strands.map(({ kind, stays }) => {
    const last = stays.at(-1)!;
    const leftFreezer = isFrozen(last) && !isFrozen(change);
    return { kind, stays: [...stays, { ...last, ...change, thawed: last.thawed || leftFreezer }] };
  });

/** All parts of the milk that is poured together, each once, with a stay at the place of the pooled milk. */
export const pooled = (sources: readonly { strands: readonly Strand[] }[], change: Change): Strand[] =>
  moved([...new Set(sources.flatMap(({ strands }) => strands))], change);

/**
 * A list only says where milk is now. It is assumed to have been there from the beginning, frozen until it was thawed, in the
 * fridge until it was warmed.
 */
export function strandsOfListed(listed: ContainerNow): Strand[] {
  const { kind, place, expressedAtMs, thawedAtMs, warmedAtMs } = listed;
  const coldPlace = warmedAtMs === null ? place : 'fridge';
  const start = { sinceMs: expressedAtMs, thawed: false, warmed: false };
  let strands: Strand[] = [
    { kind, stays: [{ ...start, place: thawedAtMs === null ? coldPlace : 'freezer' }] },
  ];
  if (thawedAtMs !== null) {
    const sinceMs = Math.min(thawedAtMs, warmedAtMs ?? thawedAtMs);
    strands = moved(strands, { sinceMs, place: coldPlace });
  }
  return warmedAtMs === null ? strands : moved(strands, { sinceMs: warmedAtMs, place, warmed: true });
}
