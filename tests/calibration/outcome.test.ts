import { beforeAll, describe, expect, it } from 'vitest';
import { checkEmptySleeve, checkFullBottle } from '../../src/calibration/check/plausibility.ts';
import { correctionsOf, withCorrection } from '../../src/calibration/fit/corrections.ts';
import { teatTipFromPushes } from '../../src/calibration/fit/teat-tip.ts';
import { STATED_FOR } from '../../src/calibration/fit/weight-inputs.ts';
import { certificateOf } from '../../src/calibration/walk/certificate.ts';
import { holdFromSamples } from '../../src/calibration/walk/hold.ts';
import { type Outcome, outcomeOf } from '../../src/calibration/walk/outcome.ts';
import { profileFromOutline } from '../../src/calibration/walk/profile.ts';
import type { WalkState } from '../../src/calibration/walk/walk-state.ts';
import { certificateHtml } from '../../src/paper/certificate/certificate-html.ts';
import { parseCalibration } from '../../src/sensing/loads/calibration.ts';
import type { CalibrationBench } from '../../src/simulation/calibration-bench.ts';
import { begun, benchFor, walked } from '../support/calibration-walk.ts';
import { seededRandom } from '../support/random.ts';

let bench: CalibrationBench;
let walk: WalkState;
let outcome: Outcome;
const NOW = { nowIso: '2026-01-06T09:00:00Z' };

beforeAll(() => {
  bench = benchFor(11);
  walk = walked(bench, begun(11)).walk;
  outcome = outcomeOf(walk, {
    finishedAt: '2026-01-05T09:40:00Z',
    softwareVersion: '1.2.3',
    uniform01: seededRandom(1),
  });
});

describe('the calibration file', () => {
  it('has the form of the sleeve contract, and more', () => {
    const again = parseCalibration(JSON.parse(JSON.stringify(outcome.calibration)), 'test');
    expect(again).toMatchObject({
      version: 1,
      sleeveNumber: 11,
      simulated: true,
      nextCheckDue: '2026-04-05',
    });
    expect(again.uncertainty).toMatchObject({ coverageFactor: 2 });
  });

  it('states budgets whose Monte Carlo agrees with the law of propagation', () => {
    for (const { budget, check } of outcome.budgets) {
      expect(check.standard / budget.combined).toBeCloseTo(1, 1);
      expect(check.mean).toBeCloseTo(budget.estimate, 0);
      const root = Math.hypot(...budget.lines.map(({ contribution }) => contribution));
      expect(budget.combined).toBeCloseTo(root, 9);
    }
  });

  it('states each budget at the amount that its title names', () => {
    // The sleeve has no errors here, so the estimates equal the truth, and the budgets state only the spread.
    const estimates = outcome.budgets.map(({ name, budget }) => [name, Number(budget.estimate.toFixed(6))]);
    const { milkGrams, flowMlPerMin, intakeMl } = STATED_FOR;
    expect(Object.fromEntries(estimates)).toEqual({ mass: milkGrams, flow: flowMlPerMin, intake: intakeMl });
  });
});

describe('plausibility at a feed', () => {
  const full = (grams: number) => holdFromSamples(bench.hold([0.3, 0, 0.95], { bottleWithGrams: grams }));

  it('is content with the full bottle, and weighs it', () => {
    const check = checkFullBottle(outcome.calibration, full(120), {
      ...NOW,
      portionMl: 120,
      densityGramsPerMl: 0.9982,
    });
    expect(check).toMatchObject({ verdict: 'good', reasons: [] });
    expect(check.milkGrams).toBeCloseTo(120, -0.5);
  });

  it('says when a zero has moved', () => {
    const hold = full(120);
    const moved = (grams: number) => {
      const [axial, front, rear] = hold.cells;
      return {
        ...hold,
        cells: [axial, front + (grams * 0.00980665) / 3.1e-6, rear] as [number, number, number],
      };
    };
    expect(checkFullBottle(outcome.calibration, moved(5), NOW).verdict).toBe('watch');
    const far = checkFullBottle(outcome.calibration, moved(20), NOW);
    expect(far.verdict).toBe('again');
    expect(far.reasons.join(' ')).toMatch(/Calibrate again/);
  });

  it('says when the weight and the portion do not agree', () => {
    const check = checkFullBottle(outcome.calibration, full(90), { ...NOW, portionMl: 150 });
    expect(check).toMatchObject({ verdict: 'watch', finding: 'amount' });
    expect(check.reasons[0]).toMatch(/not the 150 mL/);
  });

  it('says when a lighter bottle is in it', () => {
    const light = structuredClone(outcome.calibration);
    light.bottle.emptyMassGrams += 40;
    expect(checkFullBottle(light, full(10), NOW).reasons.join(' ')).toMatch(/another bottle/);
  });

  it('knows the empty sleeve, and its own age', () => {
    const empty = holdFromSamples(bench.hold([0, 0, 1], {}));
    expect(checkEmptySleeve(outcome.calibration, empty, NOW).verdict).toBe('good');
    const late = checkEmptySleeve(outcome.calibration, empty, { nowIso: '2026-07-01T00:00:00Z' });
    expect(late).toMatchObject({ verdict: 'watch', reasons: [expect.stringContaining('2026-04-05')] });
  });

  it('sees that it is another sleeve’s calibration', () => {
    const other = benchFor(12);
    const hold = holdFromSamples(other.hold([0, 0, 1], {}));
    expect(checkEmptySleeve(outcome.calibration, hold, NOW).verdict).toBe('again');
  });
});

describe('corrections that feeds teach', () => {
  const correction = {
    learnedAt: '2026-01-07T00:00:00Z',
    feedId: 'f1',
    change: { baseShiftMm: 0.3, neckShiftMm: -0.2 },
    emptyMassGrams: 0.5,
  };

  it('are carried on visibly and can be undone', () => {
    const once = withCorrection(outcome.calibration, correction);
    const twice = withCorrection(once, { ...correction, feedId: 'f2' });
    expect(correctionsOf(twice).map(({ feedId }) => feedId)).toEqual(['f1', 'f2']);
    expect(twice.bottle.emptyMassGrams).toBeCloseTo(outcome.calibration.bottle.emptyMassGrams + 1, 9);
    expect(twice.bottle.innerProfileMm[0]![0]).toBeCloseTo(
      outcome.calibration.bottle.innerProfileMm[0]![0] + 0.6,
      9,
    );
  });

  it('are refused when they add up to another bottle', () => {
    const large = { ...correction, change: { baseShiftMm: 1.5, neckShiftMm: 0 } };
    expect(() => withCorrection(withCorrection(outcome.calibration, large), large)).toThrow(/too far/);
  });
});

describe('the tip of the nipple', () => {
  const inSleeve = () => ({
    massGrams: outcome.bottle.emptyMassGrams,
    centreZMm: outcome.bottle.emptyCentreZMm,
  });
  const pushes = (newtons: number) =>
    [1, 0.8, 1.2].map((share) =>
      holdFromSamples(bench.hold([1, 0, 0], { bottleWithGrams: 0, push: { xN: share * newtons, zN: 0.1 } })),
    );

  it('is found from pushes', () => {
    const found = teatTipFromPushes(outcome.balance, pushes(1.5), inSleeve());
    expect(Math.abs(found.teatTipZMm - bench.bottle.teatTipZMm)).toBeLessThan(2 * found.sdMm);
  });

  it('is not told from a touch', () => {
    expect(() => teatTipFromPushes(outcome.balance, pushes(0.05), inSleeve())).toThrow(/too weak/);
  });
});

describe('a drawn outline', () => {
  it('is checked', () => {
    expect(() =>
      profileFromOutline([
        [0, 20],
        [10, 25],
      ]),
    ).toThrow(/at least 3/);
    expect(() =>
      profileFromOutline([
        [0, 20],
        [10, 25],
        [9, 25],
      ]),
    ).toThrow(/Point 3/);
    expect(() =>
      profileFromOutline([
        [10, 56],
        [60, 56],
        [128, 40],
      ]),
    ).toThrow(/diameters/);
    expect(() =>
      profileFromOutline([
        [1, 2.4],
        [6, 2.8],
        [12.8, 1.9],
      ]),
    ).toThrow(/centimeters/);
  });
});

describe('the certificate', () => {
  it('says what it must, and "in simulation"', () => {
    const certificate = certificateOf(walk, outcome);
    const text = JSON.stringify(certificate);
    expect(certificate.caution).toMatch(/^In simulation/);
    for (const part of [
      'January 5, 2026',
      'April 5, 2026',
      'Ebbline 1.2.3',
      'A 200.0 g',
      'k = 2',
      'Residuals',
    ]) {
      expect(text).toContain(part);
    }
    const built = certificateOf({ ...walk, simulated: false }, outcome);
    expect(built.caution).toMatch(/in simulation only/);
    for (const { foot } of [certificate, built]) expect(foot).toMatch(/in simulation/i);
    const titles = built.tables
      .map(({ title }) => title)
      .filter((title) => /uncertainty|full bottle/.test(title));
    for (const title of titles) expect(title).toMatch(/in simulation/);
    expect(titles).toHaveLength(2);
    // Volumes in fluid ounces first; a creep line of its own.
    expect(text).toMatch(/fl oz \(\d\.\d mL\)/);
    expect(text).toContain('Creep of the cells');
    expect(certificateOf({ ...walk, sleeveId: '11' }, outcome).facts).toContainEqual(['Sleeve', 'number 11']);
    const anew = certificateOf({ ...walk, plan: { ...walk.plan, anew: true } }, outcome);
    expect(anew.facts.map(([name]) => name)).toContain('Load matrix measured on');
  });

  it('is one page that needs nothing else and escapes what people typed', () => {
    const html = certificateHtml(certificateOf({ ...walk, bottleName: '<b>x</b>' }, outcome));
    expect(html).not.toContain('<b>x</b>');
    expect(html).not.toMatch(/src=|href=|https?:/);
    expect(html).toContain('&lt;b&gt;x');
  });
});
