/** Which milk goes into which bottle: containers in order of use, bottles in order of use, no milk used twice, no two kinds of milk in one bottle. */
import type { Container, MilkKind } from '../milk/milk.ts';
import { isFrozen } from '../milk/places.ts';
import type { Laid } from './search-sizes.ts';

export interface Packed {
  role: 'feed' | 'top-up' | 'spare';
  ml: number;
  from: { id: string; ml: number }[];
}

/** Milk that stays in a container that was poured from. */
export interface Rest {
  id: string;
  ml: number;
  /** It was frozen and is thawed for this plan, so its published 24 hours start. */
  thawedForThis: boolean;
}

/** A smaller amount counts as nothing. */
const DROP_ML = 0.01;

/** All milk of one kind, in order of use: breast milk and formula are never mixed. */
interface Pile {
  kind: MilkKind;
  containers: readonly Container[];
  /** Cumulative milk at the end of each container, mL. */
  endsMl: number[];
}

const pilesOf = (containers: readonly Container[]): Pile[] =>
  [...new Set(containers.map(({ kind }) => kind))].map((kind) => {
    const of = containers.filter((one) => one.kind === kind);
    let sum = 0;
    return { kind, containers: of, endsMl: of.map(({ volumeMl }) => (sum += volumeMl)) };
  });

const heldMl = ({ endsMl }: Pile): number => endsMl.at(-1) ?? 0;

/** Where each bottle is filled from: the first kind that still has enough for all of it. @returns null where none has */
function stretches(
  sizesMl: readonly number[],
  piles: readonly Pile[],
): { of: { pile: number; fromMl: number; toMl: number }[]; usedMl: number[] } | null {
  const usedMl = piles.map(() => 0);
  const of: { pile: number; fromMl: number; toMl: number }[] = [];
  for (const ml of sizesMl) {
    const pile = piles.findIndex((one, i) => heldMl(one) - usedMl[i]! >= ml - DROP_ML);
    if (pile < 0) return null;
    const fromMl = usedMl[pile]!;
    const toMl = Math.min(heldMl(piles[pile]!), fromMl + ml);
    usedMl[pile] = toMl;
    of.push({ pile, fromMl, toMl });
  }
  return { of, usedMl };
}

/** The amounts from each container between two marks of a pile. */
function between({ containers, endsMl }: Pile, fromMl: number, toMl: number): { id: string; ml: number }[] {
  return containers.flatMap(({ id, volumeMl }, i) => {
    const ml = Math.min(toMl, endsMl[i]!) - Math.max(fromMl, endsMl[i]! - volumeMl);
    return ml > DROP_ML ? [{ id, ml }] : [];
  });
}

/** What happens to a container's milk if it is not used that day. */
export interface Fate {
  /** If packed and brought back unopened, its time passes before it can be used. */
  lostBack: boolean;
  /** If left at home, its time passes before it can be used. */
  lostAtHome: boolean;
}

/** @returns a function that computes quickly how a list of bottles would be filled; for the search */
export function layOutFrom(
  containers: readonly Container[],
  fateOf: (container: Container) => Fate,
): (sizesMl: readonly number[]) => Laid | null {
  const piles = pilesOf(containers);
  const fates = piles.map((pile) => pile.containers.map(fateOf));
  return (sizesMl) => {
    const laid = stretches(sizesMl, piles);
    if (!laid) return null;
    const lostBack = laid.of.map(({ pile, fromMl, toMl }) => {
      const { endsMl, containers: all } = piles[pile]!;
      return fates[pile]!.some(
        (fate, i) =>
          fate.lostBack && endsMl[i]! > fromMl + DROP_ML && endsMl[i]! - all[i]!.volumeMl < toMl - DROP_ML,
      );
    });
    let homeLossMl = 0;
    piles.forEach(({ containers: all, endsMl }, p) => {
      all.forEach(({ volumeMl, place }, i) => {
        const leftMl = Math.min(volumeMl, endsMl[i]! - laid.usedMl[p]!);
        if (leftMl <= DROP_ML) return;
        const isTouched = leftMl < volumeMl - DROP_ML;
        // Milk that was thawed for this cannot be frozen again.
        if (fates[p]![i]!.lostAtHome || (isTouched && isFrozen({ place }))) homeLossMl += leftMl;
      });
    });
    return { lostBack, homeLossMl };
  };
}

/**
 * @param containers in order of use
 * @returns null when there is not enough milk of one kind for a bottle
 */
export function fillBottles(
  wanted: readonly { role: Packed['role']; ml: number }[],
  containers: readonly Container[],
): { bottles: Packed[]; rests: Rest[] } | null {
  const piles = pilesOf(containers);
  const laid = stretches(
    wanted.map(({ ml }) => ml),
    piles,
  );
  if (!laid) return null;
  const bottles = wanted.map(({ role, ml }, i) => {
    const { pile, fromMl, toMl } = laid.of[i]!;
    return { role, ml, from: between(piles[pile]!, fromMl, toMl) };
  });
  const rests = piles.flatMap(({ containers: all, endsMl }, p) =>
    all.flatMap(({ id, volumeMl, place }, i) => {
      const leftMl = endsMl[i]! - laid.usedMl[p]!;
      const isTouched = leftMl > DROP_ML && leftMl < volumeMl - DROP_ML;
      return isTouched ? [{ id, ml: leftMl, thawedForThis: isFrozen({ place }) }] : [];
    }),
  );
  return { bottles, rests };
}
