import { Matrix, SingularValueDecomposition } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import {
  accelerometerEntry,
  feltDirection,
  fitEllipsoid,
  orient,
  smallTurn,
} from '../../src/calibration/fit/accelerometer.ts';
import { timesVector } from '../../src/calibration/fit/linear-algebra.ts';
import type { Triple } from '../../src/calibration/walk/hold.ts';
import { POSE_NAMES, POSES } from '../../src/calibration/walk/sleeve-design.ts';
import { convertLoads, createLoadConverter } from '../../src/sensing/loads/loads.ts';
import { seededRandom } from '../support/random.ts';

const BIAS = [0.03, -0.02, 0.01];
const SHOWN = [
  [1.02, 0.006, -0.004],
  [0.006, 0.985, 0.003],
  [-0.004, 0.003, 1.01],
];

/** What a chip with this bias and this symmetric distortion shows, 1/8192 g, without noise. */
const shown = (f: readonly number[]): Triple =>
  timesVector(SHOWN, f).map((g, i) => 8192 * (g + BIAS[i]!)) as Triple;

function tumble(count: number, seed: number): number[][] {
  const random = seededRandom(seed);
  return Array.from({ length: count }, () => {
    const z = 2 * random() - 1;
    const turn = 2 * Math.PI * random();
    const across = Math.sqrt(1 - z * z);
    return [across * Math.cos(turn), across * Math.sin(turn), z];
  });
}

describe('ellipsoid fit', () => {
  it('finds bias, scale and skew from a free tumble', () => {
    const fit = fitEllipsoid(tumble(60, 1).map(shown));
    fit.biasG.forEach((bias, i) => {
      expect(bias).toBeCloseTo(BIAS[i]!, 4);
    });
    for (const f of tumble(20, 2)) {
      const felt = feltDirection(fit, shown(f));
      felt.forEach((g, i) => {
        expect(g).toBeCloseTo(f[i]!, 3);
      });
    }
  });

  it('has the same centre as an algebraic quadric fit by a reference library (SVD of ml-matrix)', () => {
    const readings = tumble(80, 3).map(shown);
    const rows = readings.map((reading) => {
      const [x, y, z] = reading.map((counts) => counts / 8192) as [number, number, number];
      return [x * x, y * y, z * z, 2 * x * y, 2 * x * z, 2 * y * z, 2 * x, 2 * y, 2 * z, 1];
    });
    const quadric = new SingularValueDecomposition(new Matrix(rows)).rightSingularVectors.getColumn(9);
    const [a, b, c, d, e, f, g, h, i] = quadric as [
      number,
      number,
      number,
      number,
      number,
      number,
      number,
      number,
      number,
    ];
    const core = new Matrix([
      [a, d, e],
      [d, b, f],
      [e, f, c],
    ]);
    const centre = new SingularValueDecomposition(core).solve(Matrix.columnVector([-g, -h, -i])).to1DArray();
    const fit = fitEllipsoid(readings);
    fit.biasG.forEach((bias, k) => {
      expect(bias).toBeCloseTo(centre[k]!, 5);
    });
  });

  it('takes six poses, and says what they leave open', () => {
    const six = fitEllipsoid(POSE_NAMES.map((pose) => shown(POSES[pose].f)));
    const many = fitEllipsoid(tumble(60, 1).map(shown));
    expect(six.biasG[0]).toBeCloseTo(BIAS[0]!, 3);
    expect(six.shapeSd[3]!).toBeGreaterThan(20 * many.shapeSd[3]!);
  });

  it('refuses poses on one side, naming the axis', () => {
    const half = tumble(60, 4).filter(([, y]) => y! > 0);
    expect(() => fitEllipsoid(half.map(shown))).toThrow(/y axis/);
  });

  it('refuses readings that were not at rest', () => {
    const random = seededRandom(5);
    const shaken = tumble(40, 6).map((f) => shown(f.map((g) => g * (1 + 0.1 * random()))));
    expect(() => fitEllipsoid(shaken)).toThrow(/steady pull/);
  });
});

describe('orientation', () => {
  const turn = smallTurn([0.2, -0.3, 1.4]);
  const readings = POSE_NAMES.map((pose) => ({
    reading: shown(timesVector(turn, POSES[pose].f)),
    sleeve: POSES[pose].f,
  }));

  it('finds a chip that was glued in turned, and writes the form that sensing reads', () => {
    const tumbled = tumble(60, 7).map((f) => shown(timesVector(turn, f)));
    const fit = orient(fitEllipsoid([...tumbled, ...readings.map(({ reading }) => reading)]), readings);
    const entry = accelerometerEntry(fit);
    const converter = createLoadConverter({
      version: 1,
      sleeveId: 'x',
      calibratedAt: 'x',
      zeroCounts: [0, 0, 0],
      loadPerCount: [
        [1, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
      ],
      accelerometer: entry,
      bottle: { emptyMassGrams: 1, emptyCentreZMm: 1, teatTipZMm: 1, innerProfileMm: [] },
    });
    for (const f of tumble(10, 8)) {
      const reading = shown(timesVector(turn, f));
      const loads = convertLoads(converter, {
        atSec: 0,
        cells: [0, 0, 0],
        accelerometer: reading,
        flags: 0,
        missingBefore: 0,
        resetBefore: false,
      });
      [loads.ax, loads.ay, loads.az].forEach((g, i) => {
        expect(g).toBeCloseTo(f[i]!, 3);
      });
    }
  });

  it('recognizes a mirrored axis, or two sides mixed up', () => {
    const mixed = readings.map(({ reading, sleeve }) => ({
      reading,
      sleeve: [sleeve[0], -sleeve[1], sleeve[2]],
    }));
    expect(() => orient(fitEllipsoid(readings.map(({ reading }) => reading)), mixed)).toThrow(/mirror/);
  });

  it('refuses poses along one line', () => {
    const line = readings.slice(0, 2);
    expect(() => orient(fitEllipsoid(readings.map(({ reading }) => reading)), line)).toThrow(
      /how the accelerometer is turned/,
    );
  });
});
