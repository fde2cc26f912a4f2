/** What a study fixes before its first feed. Pure. */
import { z } from 'zod';
import { line } from '../../base/person.ts';

/** A code that stands in file names and in exports in place of a name: letters, digits and hyphens. */
export const code = z
  .string()
  .regex(
    /^[A-Za-z0-9][A-Za-z0-9-]{0,19}$/,
    'must be 1 to 20 letters, digits or hyphens, the first no hyphen',
  );

const arm = z.strictObject({
  code,
  /** `logged`: cues about pacing are recorded but not shown. Signs of stress and the caregiver's own judgment are never withheld. */
  cues: z.enum(['on', 'logged']),
});

export const protocolSchema = z
  .strictObject({
    version: z.literal(1),
    code,
    title: line(120),
    /** Language of the figures. */
    language: z.enum(['en', 'es']).default('en'),
    /** mL; null: as each family decides. */
    plannedPortionMl: z.number().min(5).max(480).nullable().default(null),
    /** In the study's own words; no makes are needed. */
    teat: z.string().max(80).nullable().default(null),
    bottle: z.string().max(80).nullable().default(null),
    milkKind: z.enum(['expressed', 'formula', 'mixed']).nullable().default(null),
    posture: z.string().max(80).nullable().default(null),
    arms: z.array(arm).min(1).max(6),
    /** A feed whose calibration is older than this is set aside, days. */
    calibrationMostDays: z.number().int().min(1).max(3650).default(90),
    /** A feed with a smaller share of good rows is set aside, 0 to 1. */
    goodRowsLeast: z.number().min(0).max(1).default(0.8),
    /** A feed of whose samples a greater share was lost is set aside, 0 to 1. Own choice, no source. */
    missingSamplesMost: z.number().min(0).max(1).default(0.05),
    allocation: z
      .strictObject({
        /** Sizes of the blocks, drawn at random; each a multiple of the number of arms. */
        blockSizes: z.array(z.number().int().min(1).max(24)).min(1).max(4),
        strata: z.array(code).min(1).max(16).default(['all']),
        /** Most participants in a stratum; null: unlimited. A withdrawal does not free a place. */
        placesPerStratum: z.number().int().min(1).max(10_000).nullable().default(null),
        /** What is given an arm: a participant with all their feeds, or each feed of a participant by itself (an N-of-1 design). */
        unit: z.enum(['participant', 'feed']).default('participant'),
        /** By feed alone: the first feeds without cues, then a fixed number among the others, as the test of learning needs (learned.ts). */
        asksWhatIsLearned: z.boolean().default(false),
      })
      .nullable()
      .default(null),
    /** Moves all dates of a participant by the same unknown number of weeks in exports. */
    shiftDates: z.boolean().default(true),
    /** Confirmations by the responsible person; without all three no cues are withheld. */
    withholding: z
      .strictObject({
        adultsConsent: z.literal(true),
        healthyTermBabies: z.literal(true),
        ethicsApproval: line(120),
      })
      .nullable()
      .default(null),
  })
  .superRefine((protocol, context) => {
    const { arms, allocation, withholding } = protocol;
    const said = (path: string[], message: string): void =>
      context.addIssue({ code: 'custom', path, message });
    if (new Set(arms.map((one) => one.code)).size < arms.length) said(['arms'], 'has two arms of one code');
    if (arms.some(({ cues }) => cues === 'logged') && withholding === null)
      said(
        ['withholding'],
        'is missing: cues are withheld only in research on the practice of consenting adults with healthy term babies',
      );
    if (allocation?.asksWhatIsLearned) {
      const has = (cues: 'on' | 'logged'): boolean => arms.some((one) => one.cues === cues);
      if (allocation.unit !== 'feed' || arms.length !== 2 || !has('on') || !has('logged'))
        said(
          ['allocation', 'asksWhatIsLearned'],
          'goes with feeds as the unit, one arm with cues on and one with cues logged',
        );
    }
    if (arms.length > 1 && allocation === null)
      said(['allocation'], 'is missing: there is more than one arm');
    if (allocation?.blockSizes.some((size) => size % arms.length !== 0))
      said(['allocation', 'blockSizes'], `must be multiples of the ${arms.length} arms`);
  });

export type Protocol = z.infer<typeof protocolSchema>;

/** An example to start from: two arms, feeds of healthy term babies whose families agreed; everything in it is invented. */
export const EXAMPLE_PROTOCOL = {
  version: 1,
  code: 'pace-1',
  title: 'Cues shown or withheld',
  language: 'en',
  plannedPortionMl: null,
  teat: null,
  bottle: null,
  milkKind: 'expressed',
  posture: 'upright, bottle nearly level',
  arms: [
    { code: 'shown', cues: 'on' },
    { code: 'withheld', cues: 'logged' },
  ],
  allocation: { blockSizes: [2, 4], strata: ['first-child', 'later-child'] },
  calibrationMostDays: 90,
  goodRowsLeast: 0.8,
  withholding: { adultsConsent: true, healthyTermBabies: true, ethicsApproval: 'who approved it, and when' },
};
