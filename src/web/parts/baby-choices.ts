import { keyOf, toldApart } from '../../base/babies.ts';
import type { NamedBaby } from '../../server/reviewing.ts';

/** Babies with a name, to choose one of; namesakes are told apart. */
export const babyChoices = (babies: readonly NamedBaby[]): { value: string; text: string }[] =>
  babies
    .filter(({ name }) => name !== null)
    .map((baby) => ({ value: keyOf(baby), text: toldApart(baby, babies) }));
