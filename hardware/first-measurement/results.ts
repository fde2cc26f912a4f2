/**
 * Results of the first half day with one real cell: a file, checked once at entry, and what of it the simulator takes in place of its
 * defaults. Every part may be missing: what was not measured stays the default. Pure.
 */
import { z } from 'zod';
import { PlainError } from '../../src/base/errors.ts';

const positive = z.number().finite().positive();
const notNegative = z.number().finite().min(0);

/** One bar cell behind one converter; grams are grams of load, times seconds. */
export const RESULTS = z.strictObject({
  version: z.literal(1),
  /** Who, where, which cell: free words. */
  note: z.string().default(''),
  samplesPerSec: positive,
  roomCelsius: z.number().finite().min(-10).max(50).optional(),
  cell: z
    .strictObject({
      ratedGrams: positive,
      countsPerGram: z
        .number()
        .finite()
        .refine((value) => value !== 0, 'must not be 0'),
      deflectionAtRatedMm: positive.optional(),
      /** Shown of a load put on from the side, share. */
      sideShare: notNegative.max(1).optional(),
    })
    .optional(),
  /** About a straight line over each 10 s, of single readings: standard deviation, and correlation with the reading before. */
  rest: z
    .strictObject({
      sdGrams: positive,
      lag1: z.number().finite().min(-1).max(1),
      over60SecSdGrams: notNegative,
    })
    .optional(),
  /** A load put on and left. */
  creep: z
    .strictObject({
      loadGrams: positive,
      atOnceGrams: positive,
      lateGrams: positive,
      /** When half of the difference has come. */
      halfAfterSec: positive,
    })
    .optional(),
  /** A warm bottle laid on: how far the zero has gone once it no longer moves, and when 63 % of it had. */
  warmth: z
    .strictObject({
      bottleCelsius: z.number().finite().max(60),
      zeroMovedGrams: z.number().finite(),
      tauSec: positive,
    })
    .optional(),
  /** The seat of the cell: at which load its end lifted, pushed and pulled. */
  seat: z.strictObject({ pushGrams: positive, pullGrams: positive }).optional(),
  /** A phone tied to a bottle in a hand that feeds: its own sensors, gravity and all. */
  hand: z
    .strictObject({
      accelerationSdG: positive,
      accelerationTauSec: positive,
      tiltSdDeg: positive,
      tiltTauSec: positive,
      turningSdRadPerSec2: notNegative,
    })
    .optional(),
});
export type Results = z.infer<typeof RESULTS>;

/**
 * @param text JSON of a results file
 * @throws PlainError MEASURED_FILE naming the place in the file and what is wrong there
 */
export function readResults(text: string, name: string): Results {
  const wrong = (where: string) =>
    new PlainError(
      'MEASURED_FILE',
      `${name} is not a file of measured results: ${where}.`,
      'Compare it with hardware/first-measurement/example.json; leave out what was not measured.',
    );
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch {
    throw wrong('it is not JSON');
  }
  const parsed = RESULTS.safeParse(json);
  if (parsed.success) return parsed.data;
  const [issue] = parsed.error.issues;
  throw wrong(`${issue!.path.join('.') || 'the whole'}: ${issue!.message}`);
}

/** Coloured noise of the simulated cell is forgotten in this time, s (src/simulation/sensors.ts). */
const COLOURED_TAU_SEC = 0.1;
/** The simulator's step, s. */
const STEP_SEC = 0.0125;

/** What the simulator lays over its defaults: parts of `sensors` and `hand` in src/simulation/parameters.ts. */
export interface MeasuredOverrides {
  sensors?: Partial<
    Record<
      | 'cellWhiteGrams'
      | 'cellColouredGrams'
      | 'zeroDriftGramsPerSqrtMin'
      | 'creepShare'
      | 'creepTauSec'
      | 'warmingGrams'
      | 'warmingTauSec',
      number
    >
  >;
  hand?: Partial<
    Record<
      'accelerationG' | 'accelerationTauSec' | 'tiltWanderDeg' | 'tiltWanderTauSec' | 'wobbleRadPerSec2',
      number
    >
  >;
}

/** White and coloured part of a noise whose size and correlation are known: r1 = c²·φ/(w² + c²). */
function noiseParts(
  sdGrams: number,
  lag1: number,
  samplesPerSec: number,
): { white: number; coloured: number } {
  const kept = Math.exp(-1 / samplesPerSec / COLOURED_TAU_SEC);
  const share = Math.min(1, Math.max(0, lag1 / kept));
  // Fewer readings a second than the simulator's are each a mean of several of its steps.
  const steps = Math.max(1, 1 / (samplesPerSec * STEP_SEC));
  return { white: sdGrams * Math.sqrt((1 - share) * steps), coloured: sdGrams * Math.sqrt(share) };
}

/** @returns overrides of the simulator for all that was measured, and nothing else */
export function overridesFrom({ rest, creep, warmth, hand, samplesPerSec }: Results): MeasuredOverrides {
  const noise = rest && noiseParts(rest.sdGrams, rest.lag1, samplesPerSec);
  const sensors = {
    ...(rest &&
      noise && {
        cellWhiteGrams: noise.white,
        cellColouredGrams: noise.coloured,
        zeroDriftGramsPerSqrtMin: rest.over60SecSdGrams,
      }),
    ...(creep && {
      creepShare: (creep.lateGrams - creep.atOnceGrams) / creep.lateGrams,
      creepTauSec: creep.halfAfterSec / Math.LN2,
    }),
    ...(warmth && { warmingGrams: Math.abs(warmth.zeroMovedGrams), warmingTauSec: warmth.tauSec }),
  };
  return {
    ...(Object.keys(sensors).length > 0 && { sensors }),
    ...(hand && {
      hand: {
        accelerationG: hand.accelerationSdG,
        accelerationTauSec: hand.accelerationTauSec,
        tiltWanderDeg: hand.tiltSdDeg,
        tiltWanderTauSec: hand.tiltTauSec,
        wobbleRadPerSec2: hand.turningSdRadPerSec2,
      },
    }),
  };
}
