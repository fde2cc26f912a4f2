/** What a certificate says, as plain rows: the page and the PDF show the same. */

import { flOzFromMl } from '../../base/units.ts';
import { fitSoFar } from '../check/fit-so-far.ts';
import { gyroscopeWords } from '../fit/gyroscope.ts';
import { madeWithOf, nextCheckDueOf } from './noted.ts';
import type { Outcome } from './outcome.ts';
import { FULL_LOAD_GRAMS, POSES, USUAL_TOLERANCE } from './sleeve-design.ts';
import { stepsOf } from './walk-so-far.ts';
import type { WalkState } from './walk-state.ts';

export interface CertificateTable {
  title: string;
  heads: string[];
  /** Index of the first column that is right-aligned (numbers). */
  rightFrom: number;
  rows: string[][];
  note?: string;
}

export interface Certificate {
  title: string;
  subtitle: string;
  /** Shown first and in color: the limits of these figures. */
  caution: string;
  /** The same in a few words, for the foot of each page. */
  foot: string;
  facts: [name: string, text: string][];
  tables: CertificateTable[];
  closing: string[];
}

const dayOf = (iso: string): string =>
  new Date(iso).toLocaleDateString('en-US', {
    year: 'numeric',
    month: 'long',
    day: 'numeric',
    timeZone: 'UTC',
  });

const SIMULATED =
  'In simulation: a simulated sleeve was calibrated on a simulated bench. No built sleeve has shown these figures.';
const BUILT =
  'The uncertainties come from a model of the sleeve that has been tried in simulation only. Make the kitchen check of the build guide before relying on them. The residuals and the bottle are measured on this sleeve.';

export function certificateOf(walk: WalkState, outcome: Outcome): Certificate {
  const { calibration } = outcome;
  const due = nextCheckDueOf(calibration) ?? '';
  return {
    title: 'Calibration certificate',
    subtitle: `Bottle sleeve ${walk.sleeveNumber ?? walk.sleeveId} with the bottle “${walk.bottleName}”`,
    caution: walk.simulated ? SIMULATED : BUILT,
    foot: walk.simulated
      ? 'In simulation: no built sleeve has shown these figures.'
      : 'Uncertainties: in simulation, until the kitchen check has shown them.',
    facts: [
      ['Calibrated on', dayOf(calibration.calibratedAt)],
      ['Next check due', dayOf(due)],
      ...(walk.plan.anew
        ? ([['Load matrix measured on', `${dayOf(walk.startedAt)}; zeros and bottle anew`]] as [
            string,
            string,
          ][])
        : []),
      ['Sleeve', sleeveText(walk)],
      [
        'Air temperature',
        walk.ambientCelsius === null
          ? 'not noted'
          : `${((walk.ambientCelsius * 9) / 5 + 32).toFixed(0)} °F (${walk.ambientCelsius.toFixed(0)} °C)`,
      ],
      ['Gyroscope', gyroscopeWords(outcome.gyroscope)],
      ['Software', madeWithOf(calibration) ?? ''],
      ['Masses', massesText(walk)],
      ['Holds', `${Object.keys(walk.holds).length} taken, ${walk.skipped.length} skipped`],
    ],
    tables: [
      uncertaintyTable(outcome),
      ...outcome.budgets.map(budgetTable),
      loadTable(outcome),
      bottleTable(outcome),
      residualTable(walk),
    ],
    closing: [
      'Uncertainties follow JCGM 100:2008 (GUM) and are expanded with k = 2, which covers about 95 %. Propagation was checked by Monte Carlo (JCGM 101:2008). Type A: from repeated readings; type B: from other knowledge.',
      'Budgets hold for a sleeve at rest. A moving hand adds to them; the page shows that moment by moment.',
      'Made by whoever built the sleeve, not by an accredited laboratory. Not a medical device.',
    ],
  };
}

function sleeveText({ sleeveNumber, sleeveId }: WalkState): string {
  if (sleeveNumber === null) return sleeveId;
  return sleeveId === String(sleeveNumber)
    ? `number ${sleeveNumber}`
    : `number ${sleeveNumber} (${sleeveId})`;
}

function massesText(walk: WalkState): string {
  const stacks = Object.entries(walk.massesGrams).map(([stack, grams]) => `${stack} ${grams.toFixed(1)} g`);
  return `${stacks.join(', ')}; each ± ${USUAL_TOLERANCE.massGrams} g, places ± ${USUAL_TOLERANCE.placeMm} mm`;
}

function uncertaintyTable({ budgets }: Outcome): CertificateTable {
  return {
    title: 'Expanded uncertainty U (k = 2), in simulation',
    heads: ['Quantity', 'U', 'Monte Carlo, 95.45 %'],
    rightFrom: 1,
    rows: budgets.map(({ title, unit, digits, budget, check }) => [
      title,
      `± ${inOunces(budget.expanded, unit)}${budget.expanded.toFixed(digits)} ${unit}${unit === 'g' ? '' : ')'}`,
      `${check.low.toFixed(digits)} to ${check.high.toFixed(digits)} ${unit}`,
    ]),
    note: 'In about 95 of 100 cases the true value lies within ± U of what the sleeve shows at rest.',
  };
}

/** Volumes are given in fluid ounces first. */
const inOunces = (amount: number, unit: string): string =>
  unit === 'g' ? '' : `${flOzFromMl(amount).toFixed(2)} ${unit.replace('mL', 'fl oz')} (`;

function budgetTable({ title, unit, budget }: Outcome['budgets'][number]): CertificateTable {
  return {
    title: `Budget: ${title}`,
    heads: ['Source', 'Type', 'Standard uncertainty', `Contribution, ${unit}`, 'Share'],
    rightFrom: 2,
    rows: budget.lines.map((line) => [
      capital(line.source ? `${line.name}; ${line.source}` : line.name),
      line.type,
      line.unit === '1'
        ? `${significant(100 * line.standard)} %`
        : `${significant(line.standard)} ${line.unit}`,
      significant(line.contribution),
      line.share < 0.005 ? 'under 1 %' : `${(100 * line.share).toFixed(0)} %`,
    ]),
  };
}

function loadTable({ loadUncertaintyGrams: u, determinacy, balance }: Outcome): CertificateTable {
  const share = (grams: number): string => `${((100 * grams) / FULL_LOAD_GRAMS).toFixed(2)} %`;
  return {
    title: `Loads of a full bottle (${FULL_LOAD_GRAMS} g), worst hold, in simulation`,
    heads: ['Load', 'U (k = 2)', 'of full load'],
    rightFrom: 1,
    rows: [
      ['Across the bottle (Fx)', `${u.fx.toFixed(2)} g`, share(u.fx)],
      ['Along the bottle (Fz)', `${u.fz.toFixed(2)} g`, share(u.fz)],
      ['Pitch moment (as grams at 100 mm)', `${u.moment.toFixed(2)} g`, share(u.moment)],
    ],
    note: `Condition number ${determinacy.conditionNumber.toFixed(1)}; chi-square per degree of freedom ${balance.reducedChiSquare.toFixed(2)}; tilt against the sleeve’s axes known to ± ${((2 * balance.turnSdRad[1] * 180) / Math.PI).toFixed(2)}°.`,
  };
}

function bottleTable({ bottle, teatTip, calibration }: Outcome): CertificateTable {
  const profile = calibration.bottle.innerProfileMm;
  return {
    title: 'Bottle with inner cup',
    heads: ['Quantity', 'Value', 'U (k = 2)'],
    rightFrom: 1,
    rows: [
      [
        'Empty mass',
        `${bottle.emptyMassGrams.toFixed(2)} g`,
        `± ${(2 * bottle.sd.emptyMassGrams).toFixed(2)} g`,
      ],
      [
        'Empty center',
        `${bottle.emptyCentreZMm.toFixed(2)} mm`,
        `± ${(2 * bottle.sd.emptyCentreMm).toFixed(2)} mm`,
      ],
      ['Tip of the nipple', `${teatTip.teatTipZMm.toFixed(1)} mm`, `± ${(2 * teatTip.sdMm).toFixed(1)} mm`],
      [
        'Base end of the inside',
        `${profile[0]![0].toFixed(2)} mm`,
        `± ${(2 * bottle.sd.baseEndMm).toFixed(2)} mm`,
      ],
      [
        'Neck end of the inside',
        `${profile.at(-1)![0].toFixed(2)} mm`,
        `± ${(2 * bottle.sd.neckEndMm).toFixed(2)} mm`,
      ],
    ],
    note: 'Heights above the bottom of the bottle’s place.',
  };
}

function residualTable(walk: WalkState): CertificateTable {
  const steps = new Map(stepsOf(walk).map((step) => [step.id, step]));
  const rows = fitSoFar(walk).residualGrams.map(({ id, grams }) => {
    const step = steps.get(id);
    const placed =
      step?.kind === 'pose' && step.placed
        ? `mass ${step.placed.stack} at the ${step.placed.mark} mark`
        : 'no mass';
    return [step?.kind === 'pose' ? POSES[step.pose].words : id, placed, `${grams.toFixed(2)} g`];
  });
  return {
    title: 'Residuals of the load fit, largest of the three cells',
    heads: ['Pose', 'Load', 'Residual'],
    rightFrom: 2,
    rows,
    note: 'A residual is what a cell showed beyond what the fit expects. The drift of the zeros while the holds were taken is in it: early holds show more of it, and the fit allows for that.',
  };
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** Two significant digits (JCGM 100, 7.2.6). */
const significant = (value: number): string =>
  value === 0 ? '0' : value >= 100 ? value.toFixed(0) : Number(value.toPrecision(2)).toString();
