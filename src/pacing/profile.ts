/**
 * The pace profile: every figure that pacing rests on, as data, each with its unit, its source or
 * "common practice, no source", and the range it may be set to. The ranges are our own: they keep a slip of the
 * keyboard out, they are no safety limits (no safe maximum flow was found in the literature).
 */
import { z } from 'zod';
import { PlainError } from '../errors.ts';

/** One figure of the profile. `min` and `max` bound what it may be set to, both included. */
const figure = z
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

const bucket = z.strictObject({ rateMlPerMin: figure, depthMl: figure });

const paceProfile = z
  .strictObject({
    name: z.string().min(1),
    /** The one for milk that is a little fast for long, the one for milk that pours. */
    buckets: z.strictObject({ lasting: bucket, pouring: bucket }),
    rearmShare: figure,
    suckPauseSec: figure,
    tiltDown: z.strictObject({
      doubts: figure,
      degradedDoubts: figure,
      easedAfterSec: figure,
      easedUnderMl: figure,
      creditShare: figure,
      gapSec: figure,
      pouringGapSec: figure,
      pouringDepths: figure,
      slowerAfterSec: figure,
    }),
    burp: z.strictObject({
      dueMl: figure,
      atMostMl: figure,
      takenOutSec: figure,
      takenTiltDeg: figure,
      asleepSec: figure,
      showSec: figure,
    }),
    switchSide: z.strictObject({
      portionShare: figure,
      withoutPlanSec: figure,
      seenSec: figure,
      showSec: figure,
    }),
    enough: z.strictObject({
      windowSec: figure,
      binSec: figure,
      earlierSec: figure,
      takenMl: figure,
      offeredTiltDeg: figure,
      suckShare: figure,
      outsideLullShare: figure,
      lullShare: figure,
      stoppedSec: figure,
      milkShare: figure,
      suckShareAtLittleMilk: figure,
      littleMilkShare: figure,
      resumedShare: figure,
      resumedSucks: figure,
      refusals: figure,
      refusedWithinSec: figure,
      refusedUnderSucks: figure,
      refusedUnderMl: figure,
      newbornDays: figure,
      earlySec: figure,
      showSec: figure,
    }),
    suckRhythm: z.strictObject({ sucks: figure, pauseSec: figure, gapSec: figure, showSec: figure }),
    cover: z.strictObject({
      steeperDeg: figure,
      coveredMm: figure,
      dryMm: figure,
      lastsSec: figure,
      sucks: figure,
      easedDeg: figure,
      muteSec: figure,
      gapSec: figure,
      showSec: figure,
    }),
    littleComing: z.strictObject({
      activeSec: figure,
      underMlPerMin: figure,
      gapSec: figure,
      showSec: figure,
    }),
    longFeed: z.strictObject({ afterSec: figure, showSec: figure }),
    after: z.strictObject({ outSec: figure, uprightSec: figure, againSec: figure, showSec: figure }),
    quiet: z.strictObject({ gapSec: figure, atMost: figure, ownBurpRoomMl: figure }),
    button: z.strictObject({ longPressSec: figure }),
  })
  .refine((profile) => profile.burp.atMostMl.value >= profile.burp.dueMl.value, {
    error: 'burp.atMostMl must not be less than burp.dueMl',
  })
  .refine(({ enough }) => enough.resumedShare.value > enough.suckShareAtLittleMilk.value, {
    error: 'enough.resumedShare must be more than enough.suckShareAtLittleMilk, else one fading asks twice',
  })
  .refine(({ enough }) => Number.isInteger(enough.windowSec.value / enough.binSec.value), {
    error: 'enough.windowSec must be a whole number of enough.binSec',
  });

export type Figure = z.infer<typeof figure>;
export type PaceProfile = z.infer<typeof paceProfile>;

type Bare<T> = T extends Figure ? number : T extends string ? T : { [K in keyof T]: Bare<T[K]> };
/** The profile's bare numbers, in the units of their names, for the rules to run on. */
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

/** @returns the bare numbers of a checked profile. */
export function paceParams(profile: PaceProfile): PaceParams {
  const bare = (part: unknown): unknown => {
    if (typeof part !== 'object' || part === null) return part;
    if ('value' in part) return part.value;
    return Object.fromEntries(Object.entries(part).map(([name, inner]) => [name, bare(inner)]));
  };
  return bare(profile) as PaceParams;
}

/** @returns one row for each figure: its path, its value with unit, its range and its source. */
export function paceProfileRows(
  profile: PaceProfile,
): { figure: string; value: string; range: string; source: string }[] {
  const rows: { figure: string; value: string; range: string; source: string }[] = [];
  const walk = (part: object, path: string): void => {
    for (const [name, inner] of Object.entries(part)) {
      if (typeof inner !== 'object') continue;
      const at = path === '' ? name : `${path}.${name}`;
      if ('value' in inner) {
        const { value, unit, min, max, source } = inner as Figure;
        rows.push({ figure: at, value: `${value} ${unit}`, range: `${min} to ${max}`, source });
      } else walk(inner, at);
    }
  };
  walk(profile, '');
  return rows;
}
