import { describe, expect, it } from 'vitest';
import { type Burden, shellLoads } from '../../src/simulation/balance.ts';

const G0 = 9.80665; // CGPM 1901
const burden: Burden = {
  emptyMassGrams: 168,
  emptyCentreZMm: 78,
  milkMassGrams: 103,
  milkXMm: -9,
  milkZMm: 60,
};

describe('shell loads', () => {
  it('carry the weight m·g0 at rest, in every pose', () => {
    const weightN = 0.271 * G0;
    expect(shellLoads(burden, [0, 0, 1], [])[1]).toBeCloseTo(weightN, 10);
    expect(shellLoads(burden, [0, 0, -1], [])[1]).toBeCloseTo(-weightN, 10);
    expect(shellLoads(burden, [1, 0, 0], [])[0]).toBeCloseTo(weightN, 10);
    const [fx, fz] = shellLoads(burden, [Math.SQRT1_2, 0, Math.SQRT1_2], []);
    expect(Math.hypot(fx, fz)).toBeCloseTo(weightN, 10);
    // On its side (roll 90°) no cell feels the weight.
    expect(shellLoads(burden, [0, 1, 0], [])).toEqual([0, 0, 0]);
  });

  it('have the moment of the weights about the base', () => {
    // Level: lever arms are the distances along the bottle (law of the lever).
    expect(shellLoads(burden, [1, 0, 0], [])[2]).toBeCloseTo(0.168 * G0 * 0.078 + 0.103 * G0 * 0.06, 10);
    // Upright: only the milk's sideways shift has an arm; its weight pulls the −x side down.
    expect(shellLoads(burden, [0, 0, 1], [])[2]).toBeCloseTo(0.103 * G0 * 0.009, 10);
  });

  it('lose what the mouth carries; a force at the tip drops out of M − z_t·Fx', () => {
    const touch = { forceXN: 0.4, forceZN: 0.9, atXMm: 0, atZMm: 172 };
    const free = shellLoads(burden, [0.99, 0, -0.1], []);
    const held = shellLoads(burden, [0.99, 0, -0.1], [touch]);
    expect(free[0] - held[0]).toBeCloseTo(0.4, 10);
    expect(free[1] - held[1]).toBeCloseTo(0.9, 10);
    expect(held[2] - 0.172 * held[0]).toBeCloseTo(free[2] - 0.172 * free[0], 10);
  });

  it('feel a pull 1 mm off the axis as 1 mN·m for each newton', () => {
    const on = shellLoads(burden, [1, 0, 0], [{ forceXN: 0, forceZN: 1, atXMm: 0, atZMm: 172 }]);
    const off = shellLoads(burden, [1, 0, 0], [{ forceXN: 0, forceZN: 1, atXMm: 1, atZMm: 172 }]);
    expect(off[2] - on[2]).toBeCloseTo(0.001, 10);
  });
});
