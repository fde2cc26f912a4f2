/**
 * The pace profile: every figure of pacing as data, each with its unit, its source or "common practice, no source",
 * and the range it may be set to. The ranges are our own: they catch typing errors and are no safety limits (no
 * safe maximum flow was found in the literature).
 */
import { z } from 'zod';
import { PlainError } from '../../base/errors.ts';
import { type Figure, SHIPPED_FIGURES } from './shipped-figures.ts';

const figure: z.ZodType<Figure> = z
  .strictObject({
    value: z.number(),
    unit: z.string().min(1),
    min: z.number(),
    max: z.number(),
    source: z.string().min(1),
  })
  .refine((one) => one.min <= one.value && one.value <= one.max, {
    error: 'the value lies outside of its allowed range',
  });

/** A schema with the same parts as the shipped profile: names, sections, figures. */
function shapeOf(part: object): z.ZodType {
  if ('value' in part) return figure;
  const parts = Object.entries(part).map(([name, inner]) => [
    name,
    typeof inner === 'string' ? z.string().min(1) : shapeOf(inner as object),
  ]);
  return z.strictObject(Object.fromEntries(parts) as Record<string, z.ZodType>);
}

const paceProfile = (shapeOf(SHIPPED_FIGURES) as z.ZodType<PaceProfile>)
  .refine((profile) => profile.burp.atMostMl.value >= profile.burp.dueMl.value, {
    error: 'burp.atMostMl must not be less than burp.dueMl',
  })
  .refine(({ enough }) => enough.resumedShare.value > enough.suckShareAtLittleMilk.value, {
    error: 'enough.resumedShare must be more than enough.suckShareAtLittleMilk, else one fading asks twice',
  })
  .refine(({ enough }) => Number.isInteger(enough.windowSec.value / enough.binSec.value), {
    error: 'enough.windowSec must be a whole number of enough.binSec',
  });

export type { Figure } from './shipped-figures.ts';
export type PaceProfile = typeof SHIPPED_FIGURES;

type Bare<T> = T extends Figure ? number : T extends string ? T : { [K in keyof T]: Bare<T[K]> };
/** The profile's plain numbers, in the units of their names; the rules use these. */
export type PaceParams = Bare<PaceProfile>;

/**
 * Checks a profile from outside: a settings file, a clinician's plan.
 * @throws PlainError pace-profile-invalid naming each figure that is missing, misplaced or out of its range
 */
export function checkPaceProfile(from: unknown): PaceProfile {
  const checked = paceProfile.safeParse(from);
  if (checked.success) return checked.data;
  const faults = checked.error.issues.map((one) => `${one.path.join('.') || 'profile'}: ${one.message}`);
  throw new PlainError(
    'pace-profile-invalid',
    `The pace profile cannot be used: ${faults.join('; ')}.`,
    'Correct these figures, or leave the profile out to use the shipped one.',
  );
}

/**
 * Completes a profile stored with an old feed, which may lack newer sections and figures: they are taken from the shipped profile. Rules newer than the
 * feed are off in its guidance.
 */
export function completedProfile(kept: PaceProfile): PaceProfile {
  const fill = (part: object | undefined, shipped: object): object =>
    Object.fromEntries(
      Object.entries({ ...shipped, ...part }).map(([name, inner]) => {
        const other = (shipped as Record<string, unknown>)[name];
        const isSection = typeof other === 'object' && other !== null && !('value' in other);
        return [name, isSection ? fill(inner as object, other) : inner];
      }),
    );
  return fill(kept, SHIPPED_FIGURES) as PaceProfile;
}

/** @returns the bare numbers of a checked profile. */
export function paceParams(profile: PaceProfile): PaceParams {
  const bare = (part: unknown): unknown => {
    if (typeof part !== 'object' || part === null) return part;
    if ('value' in part) return part.value;
    return Object.fromEntries(Object.entries(part).map(([name, inner]) => [name, bare(inner)]));
  };
  return bare(profile) as PaceParams;
}
