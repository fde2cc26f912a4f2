import type { NamedBaby } from '../../app/review/review-answers.ts';
import { keyOf, toldApart } from '../../base/babies.ts';

/** Babies with a name, to choose one of; namesakes are told apart. */
export const babyChoices = (babies: readonly NamedBaby[]): { value: string; text: string }[] =>
  babies
    .filter(({ name }) => name !== null)
    .map((baby) => ({ value: keyOf(baby), text: toldApart(baby, babies) }));
