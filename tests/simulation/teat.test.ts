import { describe, expect, it } from 'vitest';
import { PLAIN_PARAMETERS } from '../../src/simulation/defaults.ts';
import { headPressurePa, holeFlowMlPerSec, milkShare, PASCALS_PER_MMHG } from '../../src/simulation/teat.ts';

const teat = { ...PLAIN_PARAMETERS.teat, holeMm: 0.3, dischargeCoefficient: 0.62 };

describe('a teat', () => {
  it('lets 10 mL/min through a 0.3 mm hole at about 56 mmHg, by the orifice law', () => {
    // Worked value: Cd 0.62 of a sharp-edged circular orifice (handbook), Δp = ρ/2·(Q/(Cd·A))² ≈ 56 mmHg.
    expect(holeFlowMlPerSec(teat, 56 * PASCALS_PER_MMHG, 1.03) * 60).toBeCloseTo(10, 0);
  });

  it('lets through twice as much at four times the pressure, four times as much with twice the hole', () => {
    const flow = holeFlowMlPerSec(teat, 1000, 1.03);
    expect(holeFlowMlPerSec(teat, 4000, 1.03)).toBeCloseTo(2 * flow, 10);
    expect(holeFlowMlPerSec({ ...teat, holeMm: 0.6 }, 1000, 1.03)).toBeCloseTo(4 * flow, 10);
    expect(holeFlowMlPerSec(teat, -5, 1.03)).toBe(0);
  });

  it('has 1 mmHg behind it for each 13.6 mm of water', () => {
    // Definition of the conventional millimetre of mercury: density 13.5951 g/mL.
    expect(headPressurePa(13.5951, 1) / PASCALS_PER_MMHG).toBeCloseTo(1, 3);
    expect(headPressurePa(-3, 1)).toBe(0);
  });

  it('gives only air while its hole is bare, only milk when well covered', () => {
    expect(milkShare(teat, -1)).toBe(0);
    expect(milkShare(teat, 0)).toBe(0);
    expect(milkShare(teat, 40)).toBe(1);
  });
});
