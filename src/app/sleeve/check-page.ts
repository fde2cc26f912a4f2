/** The page of results of a bring-up check: each number with its range and source, and what to repair. Pure. */
import type { Reading } from '../../../hardware/bring-up/check-steps.ts';
import type { CheckStep, Limit } from '../../../hardware/bring-up/checklist.ts';
import type { Certificate } from '../../calibration/walk/certificate.ts';
import type { StepOutcome } from './checklist-walk.ts';

/** The sleeve, the date, and how its cells were read. */
export interface CheckFacts {
  readonly sleeveNumber: number;
  readonly firmwareVersion: readonly number[];
  /** For people, such as "March 3, 2026". */
  readonly checkedOn: string;
  readonly calibrated: boolean;
}

const withUnit = (value: number, unit: string): string =>
  unit === '' || unit === '%' || unit === '°' ? `${value}${unit}` : `${value} ${unit}`;

function expectedText({ least, greatest, unit }: Limit): string {
  if (least !== undefined && greatest !== undefined)
    return least === greatest ? withUnit(least, unit) : `${least} to ${withUnit(greatest, unit)}`;
  return least === undefined ? `at most ${withUnit(greatest!, unit)}` : `at least ${withUnit(least, unit)}`;
}

const measuredText = ({ value, limit }: Reading): string =>
  value === null || !Number.isFinite(value)
    ? 'not measured'
    : withUnit(Number(value.toPrecision(3)), limit.unit);

interface Judged {
  readonly step: CheckStep;
  readonly outcome: StepOutcome;
}

const readingsOf = ({ outcome }: Judged): readonly Reading[] =>
  'readings' in outcome ? outcome.readings : [];

/** One row a number; a step answered by a person has no number, only passed or not. */
function rowsOf(judged: Judged): string[][] {
  const { step, outcome } = judged;
  if (outcome.passed === null) return [];
  const readings = readingsOf(judged);
  if (readings.length === 0)
    return [[step.title, outcome.passed ? 'yes' : 'no', 'yes', outcome.passed ? 'ok' : 'NOT OK']];
  return readings.map((reading) => [
    `${step.title}: ${reading.limit.what}. Range: ${reading.limit.source}.`,
    measuredText(reading),
    expectedText(reading.limit),
    reading.passed ? 'ok' : 'NOT OK',
  ]);
}

function mendRow(judged: Judged): string[] {
  const { step, outcome } = judged;
  const wrong = readingsOf(judged)
    .filter(({ passed, value }) => !passed && value !== null)
    .map((reading) => `${reading.limit.what} ${measuredText(reading)}`)
    .join('; ');
  const why = ('trouble' in outcome && outcome.trouble) || wrong || 'The answer was no.';
  return [`${step.title}: ${why}`, step.ifItFails];
}

/** @param steps the steps done @param outcomes their results, in the same order @returns the content of both text and HTML */
export function checkPage(
  steps: readonly CheckStep[],
  outcomes: readonly StepOutcome[],
  { sleeveNumber, firmwareVersion, checkedOn, calibrated }: CheckFacts,
): Certificate {
  const all = steps.map((step, i): Judged => ({ step, outcome: outcomes[i]! }));
  const failed = all.filter(({ outcome }) => outcome.passed === false);
  const leftOut = all.filter(({ outcome }) => outcome.passed === null);
  const verdict =
    failed.length > 0
      ? 'Do not use this sleeve at a baby before every step has passed.'
      : leftOut.length > 0
        ? 'What was measured is in its range; what was left out is not known.'
        : 'Every number is in its range.';
  return {
    title: 'Bring-up of a sleeve',
    subtitle: `Sleeve ${sleeveNumber}`,
    caution: `${verdict} A check of a built prototype: no medical device, no certificate of a laboratory.`,
    foot: `Bring-up of sleeve ${sleeveNumber}, ${checkedOn}`,
    facts: [
      ['Checked on', checkedOn],
      ['Firmware', firmwareVersion.join('.')],
      ['Grams of a count', calibrated ? 'by the calibration' : 'by the data sheets; some 15 % unsure'],
      ['Passed', String(all.length - failed.length - leftOut.length)],
      ['Not passed', String(failed.length)],
      ['Left out', leftOut.map(({ step }) => step.title).join('; ') || 'none'],
    ],
    tables: [
      ...(failed.length > 0
        ? [{ title: 'What to mend', heads: ['found', 'mend'], rightFrom: 2, rows: failed.map(mendRow) }]
        : []),
      {
        title: 'What was measured',
        heads: ['what, and where its range comes from', 'measured', 'expected', ''],
        rightFrom: 1,
        rows: all.flatMap(rowsOf),
      },
    ],
    closing: [
      'Ranges without a source are our own choice, and say so. They are judged on simulated sleeves; no built sleeve has shown yet that they are right.',
      'A good cell that drifts by chance may miss a range once: repeat the step before you change a part.',
    ],
  };
}

/** @returns the same as plain text */
export function checkPageText({ title, subtitle, caution, facts, tables, closing }: Certificate): string {
  return [
    `${title}: ${subtitle}`,
    caution,
    '',
    ...facts.map(([name, text]) => `${name}: ${text}`),
    ...tables.flatMap((table) => [
      '',
      table.title.toUpperCase(),
      ...table.rows.map(([what, ...rest]) =>
        table.rightFrom === 1
          ? `  ${rest[2]!.padEnd(6)} ${rest[0]} (expected: ${rest[1]})\n         ${what}`
          : `  ${what}\n    → ${rest[0]}`,
      ),
    ]),
    '',
    ...closing,
  ].join('\n');
}
