import { describe, expect, it } from 'vitest';
import {
  degFromRad,
  flOzFromMl,
  gramsFromNewtons,
  ML_PER_US_FL_OZ,
  mlFromFlOz,
  newtonsFromGrams,
  quarterFlOzText,
  radFromDeg,
  STANDARD_GRAVITY_MPS2,
  volumeText,
} from '../../src/base/units.ts';

describe('the US fluid ounce', () => {
  // NIST Handbook 44, appendix C: 1 US fluid ounce = 29.573 529 562 5 mL exactly (1/128 gallon of 231 cubic inches of 2.54 cm).
  it('is that of NIST Handbook 44', () => {
    expect(ML_PER_US_FL_OZ).toBe(29.5735295625);
    expect(ML_PER_US_FL_OZ).toBeCloseTo((231 * 2.54 ** 3) / 128, 12);
  });

  it('is turned both ways', () => {
    expect(mlFromFlOz(4)).toBeCloseTo(118.294, 3);
    expect(flOzFromMl(118.29411825)).toBeCloseTo(4, 12);
    expect(flOzFromMl(mlFromFlOz(2.75))).toBeCloseTo(2.75, 12);
  });
});

describe('weight', () => {
  // Standard gravity 9.806 65 m/s²: 3rd CGPM 1901, in The International System of Units (BIPM) and NIST SP 330.
  it('rests on standard gravity', () => {
    expect(STANDARD_GRAVITY_MPS2).toBe(9.80665);
    // One kilogram-force is 9.806 65 N (NIST SP 811, appendix B.8).
    expect(newtonsFromGrams(1000)).toBe(9.80665);
    expect(gramsFromNewtons(9.80665)).toBeCloseTo(1000, 9);
    // One pound-force, 4.448 221 615 260 5 N (NIST SP 811, appendix B.8), is the weight of the pound of 453.592 37 g.
    expect(gramsFromNewtons(4.4482216152605)).toBeCloseTo(453.59237, 8);
  });
});

describe('angles', () => {
  it('turns angles', () => {
    expect(degFromRad(Math.PI / 2)).toBe(90);
    expect(radFromDeg(180)).toBe(Math.PI);
  });
});

describe('volumes for people', () => {
  it.each([
    [0, '0'],
    [3.6, '0'],
    [3.7, '¼'],
    [11.1, '½'],
    [22.2, '¾'],
    [29.5735, '1'],
    [82, '2¾'],
    [118.3, '4'],
    // 3.875 fl oz lies half-way between quarters: rounded up.
    [114.6, '4'],
    [114.5, '3¾'],
  ])('%f mL is "%s" fl oz', (ml, text) => {
    expect(quarterFlOzText(ml)).toBe(text);
  });

  it('puts the chosen unit first and the other beside it', () => {
    expect(volumeText(82)).toBe('2¾ fl oz (82 mL)');
    expect(volumeText(82, 'ml')).toBe('82 mL (2¾ fl oz)');
    expect(volumeText(0)).toBe('0 fl oz (0 mL)');
    expect(volumeText(81.6)).toBe('2¾ fl oz (82 mL)');
  });

  it('never shows a minus zero', () => {
    expect(volumeText(-0.2)).toBe('0 fl oz (0 mL)');
  });
});
