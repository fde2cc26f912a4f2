import { inverse, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import type { PlainError } from '../../src/base/errors.ts';
import { Random } from '../../src/base/random.ts';
import { conditionNumber, parseCalibration, readCalibration } from '../../src/sensing/loads/calibration.ts';
import { exampleCalibration } from '../support/calibrations.ts';
import { codeOf } from '../support/refusals.ts';

describe('calibration file', () => {
  it('takes the form of the sleeve contract, and keeps fields it does not know', () => {
    const read = readCalibration(
      JSON.stringify({ ...exampleCalibration(), note: 'kitchen table' }),
      'a.json',
    );
    expect(read.bottle.emptyMassGrams).toBe(168);
    expect((read as { note?: string }).note).toBe('kitchen table');
  });

  it('names what is wrong, where, and what to do', () => {
    const wrong = { ...exampleCalibration(), zeroCounts: [1, 2] };
    try {
      parseCalibration(wrong, 'b.json');
      expect.unreachable();
    } catch (error) {
      expect((error as PlainError).text).toMatch(/b\.json.*zeroCounts.*calibrate it again/);
    }
  });

  it('refuses each impossible file by its own code', () => {
    const base = exampleCalibration();
    expect(codeOf(() => readCalibration('{', 'x'))).toBe('calibration-form');
    expect(codeOf(() => readCalibration('null', 'x'))).toBe('calibration-form');
    expect(codeOf(() => parseCalibration({ ...base, version: 2 }, 'x'))).toBe('calibration-version');
    expect(
      codeOf(() =>
        parseCalibration(
          {
            ...base,
            loadPerCount: [
              [0, 1, 1],
              [1, 0, 0],
              [0, 2, 2],
            ],
          },
          'x',
        ),
      ),
    ).toBe('calibration-matrix');
    expect(
      codeOf(() =>
        parseCalibration(
          {
            ...base,
            loadPerCount: [
              [0, 0, 0],
              [0, 0, 0],
              [0, 0, 0],
            ],
          },
          'x',
        ),
      ),
    ).toBe('calibration-matrix');
    const accelerometer = { ...base.accelerometer, scale: [1, 0, 1] };
    expect(codeOf(() => parseCalibration({ ...base, accelerometer }, 'x'))).toBe('calibration-accelerometer');
    const falling = {
      ...base.bottle,
      innerProfileMm: [
        [10, 24],
        [9, 24],
      ],
    };
    expect(codeOf(() => parseCalibration({ ...base, bottle: falling }, 'x'))).toBe('calibration-bottle');
    const flat = {
      ...base.bottle,
      innerProfileMm: [
        [10, 0],
        [20, 0],
      ],
    };
    expect(codeOf(() => parseCalibration({ ...base, bottle: flat }, 'x'))).toBe('calibration-bottle');
    for (const [bottle, says] of [
      [{ innerProfileMm: Array.from({ length: 200_000 }, (_, i) => [i / 1000, 20]) }, /200000 points/],
      [
        {
          innerProfileMm: [
            [0, 20],
            [100, 1e9],
          ],
        },
        /wider than/,
      ],
      [
        {
          innerProfileMm: [
            [0, 20],
            [1e7, 20],
          ],
        },
        /longer than/,
      ],
      [{ emptyMassGrams: 1 }, /emptyMassGrams/],
    ] as const) {
      const odd = { ...base, bottle: { ...base.bottle, ...bottle } };
      expect(codeOf(() => parseCalibration(odd, 'x'))).toBe('calibration-bottle');
      expect(() => parseCalibration(odd, 'x')).toThrow(says);
    }
    const weightless = { ...base.bottle, emptyMassGrams: 0 };
    expect(codeOf(() => parseCalibration({ ...base, bottle: weightless }, 'x'))).toBe('calibration-form');
  });

  it('takes a gyroscope and the accelerometer’s place, and refuses what no chip and no sleeve can have', () => {
    const base = exampleCalibration();
    const withTurning = (biasDps: unknown, scale: unknown = [1, 1, 1]) =>
      parseCalibration({ ...base, gyroscope: { biasDps, scale } }, 'x');
    // The sleeve contract's own example.
    expect(withTurning([0.4, -1.1, 0.2]).gyroscope).toEqual({ biasDps: [0.4, -1.1, 0.2], scale: [1, 1, 1] });
    expect(parseCalibration(base, 'x').gyroscope).toBeUndefined();
    expect(codeOf(() => withTurning([0.4, -20.1, 0.2]))).toBe('calibration-gyroscope');
    expect(codeOf(() => withTurning([0, 0, 0], [1, 0.4, 1]))).toBe('calibration-gyroscope');
    expect(codeOf(() => withTurning([0, 0, 0], [1, 1, 2.1]))).toBe('calibration-gyroscope');
    expect(codeOf(() => withTurning([0, 0]))).toBe('calibration-form');
    expect(codeOf(() => withTurning([0, 0, 'none']))).toBe('calibration-form');
    const at = (positionMm: number[]) =>
      parseCalibration({ ...base, accelerometer: { ...base.accelerometer, positionMm } }, 'x');
    expect(at([-41.6, 0, 65]).accelerometer.positionMm).toEqual([-41.6, 0, 65]);
    expect(at([20, 0, -15.5]).accelerometer.positionMm).toEqual([20, 0, -15.5]);
    // Refused: places outside of the sleeve, as when another unit was used.
    expect(codeOf(() => at([0, 0, 650]))).toBe('calibration-accelerometer');
    expect(codeOf(() => at([0, 0, -61]))).toBe('calibration-accelerometer');
  });

  it('has the condition number that a reference library gives (ml-matrix), rows brought to one size', () => {
    const random = new Random(5, 'matrices');
    const norm = (matrix: Matrix) =>
      Math.max(
        ...[0, 1, 2].map((column) => matrix.getColumn(column).reduce((sum, v) => sum + Math.abs(v), 0)),
      );
    for (let i = 0; i < 20; i++) {
      const rows = [1, 100, 0.01].map((size) => [0, 1, 2].map(() => size * random.normal()));
      const scaled = new Matrix(rows.map((row) => row.map((v) => v / Math.max(...row.map(Math.abs)))));
      const expected = norm(scaled) * norm(inverse(scaled));
      const found = conditionNumber(rows as Parameters<typeof conditionNumber>[0]);
      expect(found / expected).toBeCloseTo(1, 9);
    }
  });

  it('tells a usable matrix from one near singular', () => {
    expect(conditionNumber(exampleCalibration().loadPerCount)).toBeLessThan(50);
    expect(
      conditionNumber([
        [0, 1, 1],
        [1, 0, 0],
        [0, 1, 1 + 1e-9],
      ]),
    ).toBeGreaterThan(1e6);
  });
});
