/**
 * What a nipple's passport is made of: each field with its type, range, unit and meaning, once. The program's types, the published JSON
 * Schema (passport.schema.json) and the page that explains it (PASSPORT.md) come from here. Pure.
 */
import { z } from 'zod';

/** @param unit in the notation of the SI brochure; 1 where it is a number alone */
const said = <T extends z.ZodType>(type: T, description: string, unit?: string): T =>
  type.meta({ description, ...(unit !== undefined && { unit }) });

const FLOW = z.number().min(0);

export const conditionsShape = {
  liquid: said(z.enum(['water', 'formula', 'milk']), 'What ran out, at room temperature.'),
  suction: z
    .union([
      z.literal('free'),
      z.strictObject({
        mmHg: said(z.number().min(10).max(300), 'Suction, below the air around it.', 'mmHg'),
      }),
    ])
    .meta({ description: '“free”: it drips by itself. Else the stated suction that was held.' }),
  tiltDeg: said(z.number().min(0).max(90), 'How far the nipple points down; 0 is level.', '°'),
  headMm: said(z.number().min(5).max(200), 'Height of the liquid above the hole at the start.', 'mm'),
};

export const TEAT_NAME = z.string().trim().min(1).max(80);
export const FEWEST_TRIALS = 3;
export const MOST_TRIALS = 50;
/** Of trials that a precision would take; above it none is told. */
export const MOST_TRIALS_NEEDED = 200;

export const teatPassportSchema = z.strictObject({
  version: said(z.literal(1), 'Version of this format; a reader refuses one that it does not know.'),
  teat: said(TEAT_NAME, 'The nipple, in the words of whoever measured it.'),
  atMs: said(z.number(), 'When it was measured: time since 1970-01-01 UTC.', 'ms'),
  conditions: said(
    z.strictObject(conditionsShape),
    'How it was measured. Passports are compared only where all of this is the same.',
  ),
  trials: said(z.int().min(FEWEST_TRIALS).max(MOST_TRIALS), 'Trials that the mean is of.', '1'),
  flowMlPerMin: said(FLOW, 'Mean flow of the trials.', 'mL/min'),
  lowMlPerMin: said(FLOW, 'Lower end of the 95 % interval of the mean, at least 0.', 'mL/min'),
  highMlPerMin: said(FLOW, 'Upper end of it.', 'mL/min'),
  coefficientOfVariation: said(
    z.number().min(0),
    'Standard deviation of single trials, divided by their mean; 0 where nothing ran out.',
    '1',
  ),
  trialsFor5Percent: said(
    z.int().min(FEWEST_TRIALS).max(MOST_TRIALS_NEEDED).nullable(),
    `Such trials for a mean that is known to 5 % (95 %); null: not even ${MOST_TRIALS_NEEDED} would do.`,
    '1',
  ),
  holeMm: said(
    z
      .strictObject({
        least: said(z.number().positive(), 'With a discharge coefficient of 0.8.', 'mm'),
        most: said(z.number().positive(), 'With one of 0.5.', 'mm'),
      })
      .nullable(),
    'Diameter of a round hole that would give this flow, by Torricelli’s law; null where nothing ran out. The law is uncertain for so small a hole.',
  ),
  wear: said(
    z
      .strictObject({
        ratio: said(
          z.number().min(0).nullable(),
          'Mean flow divided by that of the passport before; null where nothing ran out then.',
          '1',
        ),
        isClear: said(z.boolean(), 'Both intervals are apart, so that chance does not explain it.'),
      })
      .nullable(),
    'Change since the last passport of this nipple under the same conditions; null where there is none.',
  ),
});

/** A nipple's passports, newest last: what is kept of it, and what is handed on. */
export const teatPassportsSchema = z.array(teatPassportSchema);

export type TeatPassport = z.infer<typeof teatPassportSchema>;
