import { describe, expect, it } from 'vitest';
import { SAMPLE_FLAGS } from '../../firmware-bridge/wire/index.ts';
import { evaluateAnswer, evaluateKitchen, evaluateStep } from '../../hardware/bring-up/check-steps.ts';
import type { CheckSample } from '../../hardware/bring-up/check-values.ts';
import { CHECKLIST, type CheckStep } from '../../hardware/bring-up/checklist.ts';
import { cellNoise, gramsPerCount } from '../../hardware/budgets/resolution.ts';
import { Random } from '../../src/base/random.ts';

const step = (id: string): CheckStep => {
  const found = CHECKLIST.find((each) => each.id === id);
  if (!found) throw new RangeError(id);
  return found;
};

type Change = (sample: CheckSample, i: number) => Partial<CheckSample>;

/** A sleeve at rest, upright, 80 samples a second, with the noise of the budget; `change` adds a fault. */
function samples(
  seconds: number,
  change: Change = () => ({}),
  { rateHz = 80, noise = cellNoise().counts } = {},
): CheckSample[] {
  const random = new Random(7, 'cells');
  return Array.from({ length: Math.round(seconds * rateHz) + 1 }, (_, i) => {
    const cells: [number, number, number] = [60_000, -30_000, 1200].map((zero) =>
      Math.round(zero + noise * random.normal()),
    ) as [number, number, number];
    const sample: CheckSample = {
      atSec: i / rateHz,
      cells,
      accelerometer: [0, 0, 8192],
      flags: 0,
      missingBefore: 0,
      resetBefore: false,
    };
    return { ...sample, ...change(sample, i) };
  });
}

const flagged =
  (flag: number, when: (i: number) => boolean): Change =>
  (_, i) =>
    when(i) ? { flags: flag } : {};
const passed = (id: string, given: readonly CheckSample[]) => evaluateStep(step(id), given).passed;

describe('the list', () => {
  it('has steps of different names, each limit with its source', () => {
    expect(new Set(CHECKLIST.map((each) => each.id)).size).toBe(CHECKLIST.length);
    for (const each of CHECKLIST) {
      expect(each.doThis).not.toBe('');
      expect(each.ifItFails).not.toBe('');
      for (const limit of each.limits) {
        expect(limit.source).not.toBe('');
        expect(limit.least ?? limit.greatest).toBeDefined();
      }
    }
  });

  it('ends with the kitchen, cold and warm', () => {
    expect(CHECKLIST.slice(-2).map((each) => each.id)).toEqual(['kitchen-cold', 'kitchen-warm']);
  });

  it('passes a good sleeve at rest', () => {
    for (const id of [
      'supply',
      'sample-rate',
      'lost-samples',
      'shared-clock',
      'faults',
      'noise-axial',
      'noise-front',
      'noise-rear',
    ])
      expect(evaluateStep(step(id), samples(step(id).seconds)), id).toMatchObject({
        passed: true,
        trouble: null,
      });
  });
});

describe('too little to judge', () => {
  it('fails with the reason when samples are few, or the sleeve was reset', () => {
    expect(evaluateStep(step('noise-axial'), [])).toMatchObject({ passed: false });
    expect(evaluateStep(step('noise-axial'), samples(3)).trouble).toContain('3.0 s');
    const reset = evaluateStep(
      step('supply'),
      samples(5, (_, i) => ({ resetBefore: i === 100 })),
    );
    expect(reset.passed).toBe(false);
    expect(reset.trouble).toContain('reset');
    expect(reset.readings.every((reading) => reading.value === null && !reading.passed)).toBe(true);
  });

  it('does not judge from samples what a person must say', () => {
    expect(() => evaluateStep(step('light'), samples(5))).toThrow(TypeError);
    expect(() => evaluateAnswer(step('supply'), true)).toThrow(TypeError);
    expect(() => evaluateKitchen(step('supply'), 30, 30)).toThrow(TypeError);
  });
});

describe('supply, rate, losses, faults', () => {
  it('fails on a single sample with the supply flag', () => {
    expect(
      passed(
        'supply',
        samples(
          5,
          flagged(SAMPLE_FLAGS.supplyLow, (i) => i === 200),
        ),
      ),
    ).toBe(false);
  });

  it('tells converters on clocks of their own from a cell that is silent', () => {
    const { axialCellFault, frontCellFault, rearCellFault } = SAMPLE_FLAGS;
    const faults = [axialCellFault, frontCellFault, rearCellFault];
    const inTurn = samples(10, (_, i) => ({ flags: faults[Math.floor(i / 7) % 3]! }));
    for (const id of ['shared-clock', 'faults'])
      expect(evaluateStep(step(id), inTurn)).toMatchObject({
        passed: false,
        trouble: expect.stringContaining('clocks of their own'),
      });
    const torn = samples(10, () => ({ flags: frontCellFault }));
    for (const id of ['shared-clock', 'faults'])
      expect(evaluateStep(step(id), torn)).toMatchObject({ passed: false, trouble: null });
  });

  it('measures the rate, within 1 %', () => {
    const result = evaluateStep(step('sample-rate'), samples(10, undefined, { rateHz: 80.4 }));
    expect(result.readings[0]!.value).toBeCloseTo(80.4, 6);
    expect(result.passed).toBe(true);
    expect(passed('sample-rate', samples(10, undefined, { rateHz: 81 }))).toBe(false);
    expect(passed('sample-rate', samples(10, undefined, { rateHz: 10 }))).toBe(false);
  });

  it('counts what was lost on the way and on the chip', () => {
    expect(
      passed(
        'lost-samples',
        samples(30, (_, i) => ({ missingBefore: i === 500 ? 2 : 0 })),
      ),
    ).toBe(false);
    const chip = evaluateStep(
      step('lost-samples'),
      samples(
        30,
        flagged(SAMPLE_FLAGS.samplesLost, (i) => i === 9),
      ),
    );
    expect(chip.readings[0]!.value).toBe(1);
    // Sequence numbers before the first sample do not count as lost.
    expect(
      passed(
        'lost-samples',
        samples(30, (_, i) => ({ missingBefore: i === 0 ? 9 : 0 })),
      ),
    ).toBe(true);
  });

  it.each(['axialCellFault', 'frontCellFault', 'rearCellFault', 'accelerometerFault'] as const)(
    'sees %s',
    (flag) => {
      expect(
        passed(
          'faults',
          samples(
            5,
            flagged(SAMPLE_FLAGS[flag], (i) => i === 3),
          ),
        ),
      ).toBe(false);
    },
  );

  it('does not take a pressed button for a fault', () => {
    expect(
      passed(
        'faults',
        samples(
          5,
          flagged(SAMPLE_FLAGS.buttonDown, () => true),
        ),
      ),
    ).toBe(true);
  });
});

describe('noise at rest', () => {
  it('measures what was put in', () => {
    const value = evaluateStep(step('noise-front'), samples(10)).readings[0]!.value!;
    expect(value).toBeGreaterThan(0.9 * cellNoise().counts);
    expect(value).toBeLessThan(1.1 * cellNoise().counts);
  });

  it('lets warming pass but not three times the noise of the datasheet', () => {
    const warming: Change = ({ cells }, i) => ({ cells: [cells[0] + 3 * i, cells[1], cells[2]] });
    expect(passed('noise-axial', samples(10, warming))).toBe(true);
    expect(passed('noise-axial', samples(10, undefined, { noise: 3 * cellNoise().counts }))).toBe(false);
  });

  it('fails a cell that is flagged', () => {
    const silent = samples(
      10,
      flagged(SAMPLE_FLAGS.rearCellFault, () => true),
    );
    expect(evaluateStep(step('noise-rear'), silent).trouble).toContain('rear');
    expect(passed('noise-front', silent)).toBe(true);
  });
});

describe('a cell pressed', () => {
  const grams = (g: number) => g / gramsPerCount();
  /** Pressed from 4 s to 6 s by these counts on each cell; `left` counts stay on the first one afterwards. */
  const pressing =
    (by: readonly [number, number, number], left = 0): Change =>
    ({ atSec, cells }) => {
      const on = atSec >= 4 && atSec < 6;
      const after = atSec >= 6 ? left : 0;
      return {
        cells: cells.map((v, k) => v + (on ? by[k]! : 0) + (k === 0 ? after : 0)) as [number, number, number],
      };
    };

  it('passes when the right cell rises and comes back', () => {
    const result = evaluateStep(
      step('press-axial'),
      samples(10, pressing([grams(250), grams(20), -grams(10)])),
    );
    expect(result.passed).toBe(true);
    expect(result.readings[0]!.value! * gramsPerCount()).toBeCloseTo(250, 0);
    expect(result.readings[1]!.value).toBeCloseTo(8, 0);
  });

  it('fails when nothing is pressed, when it falls, and when another cell answers', () => {
    expect(passed('press-axial', samples(10))).toBe(false);
    expect(passed('press-axial', samples(10, pressing([-grams(250), 0, 0])))).toBe(false);
    expect(passed('press-axial', samples(10, pressing([grams(10), grams(250), 0])))).toBe(false);
    expect(passed('press-front', samples(10, pressing([grams(10), grams(250), 0])))).toBe(true);
    expect(passed('press-rear', samples(10, pressing([grams(10), grams(250), 0])))).toBe(false);
  });

  it('fails when something sticks', () => {
    const result = evaluateStep(step('press-axial'), samples(10, pressing([grams(250), 0, 0], grams(3))));
    expect(result.passed).toBe(false);
    expect(result.readings.map((reading) => reading.passed)).toEqual([true, true, false]);
  });
});

describe('turning', () => {
  type Triple = [number, number, number];
  const cross = ([a, b, c]: Triple, [d, e, f]: Triple): Triple => [
    b * f - c * e,
    c * d - a * f,
    a * e - b * d,
  ];

  /**
   * A hand that turns the level sleeve about one axis, 60° and back and again, unevenly, with some of the others and a jerk of 20 mg.
   * Up, a fixed direction, is seen in the turning sleeve: du/dt = u × ω, stepped with small steps and kept at its length.
   */
  function turned(axis: 0 | 1 | 2, shown: (gyroscope: Triple) => Triple | null = (g) => g): CheckSample[] {
    const random = new Random(8, 'gyroscope');
    let up: Triple = [1, 0, 0];
    return samples(8, ({ atSec }) => {
      const sec = Math.max(0, atSec - 1.2);
      const radPerSec: Triple = [0.05, -0.04, 0.06].map((part) => part * Math.sin(5 * sec)) as Triple;
      radPerSec[axis] = -0.9 * Math.sin(1.7 * sec) - 0.1 * Math.sin(7 * sec);
      for (let i = 0; i < 10; i++) {
        const by = cross(up, radPerSec);
        up = up.map((u, k) => u + by[k]! * (1 / 800)) as Triple;
        up = up.map((u) => u / Math.hypot(...up)) as Triple;
      }
      const bias = [0.8, -1.9, 0.3];
      const gyroscope = radPerSec.map((rate, k) =>
        Math.round(65.5 * ((rate * 180) / Math.PI + bias[k]! + 0.05 * random.normal())),
      ) as Triple;
      const jerk = 0.02 * Math.sin(19 * atSec);
      return {
        accelerometer: up.map((u) => Math.round(8192 * (u + jerk + 0.002 * random.normal()))) as Triple,
        gyroscope: shown(gyroscope),
      };
    });
  }

  it('passes a sleeve whose gyroscope follows the axes of the sleeve contract', () => {
    for (const [id, axis] of [
      ['turn-y', 1],
      ['turn-z', 2],
    ] as const) {
      const result = evaluateStep(step(id), turned(axis));
      expect(result, id).toMatchObject({ passed: true, trouble: null });
      expect(result.readings[0]!.value).toBeGreaterThan(50);
      expect(Math.abs(result.readings[1]!.value! - 1)).toBeLessThan(0.05);
      expect(result.readings[3]!.value).toBeCloseTo(1.9, 1);
    }
  });

  it.each<[string, (g: Triple) => Triple | null, readonly boolean[]]>([
    ['a reversed axis', ([x, y, z]) => [x, -y, z], [true, false, true, true]],
    ['swapped axes', ([x, y, z]) => [y, x, z], [true, false, false, true]],
    ['axes turned round', ([x, y, z]) => [z, x, y], [true, false, false, true]],
    ['another range', ([x, y, z]) => [x / 2, y / 2, z / 2], [true, false, true, true]],
    ['a zero far off', ([x, y, z]) => [x, y, z + 65.5 * 25], [true, true, true, false]],
  ])('fails %s', (_, shown, readings) => {
    const result = evaluateStep(step('turn-y'), turned(1, shown));
    expect(result.passed).toBe(false);
    expect(result.readings.map((reading) => reading.passed)).toEqual(readings);
  });

  it('fails a sleeve that was hardly turned, or about another axis', () => {
    expect(evaluateStep(step('turn-y'), turned(2)).readings[0]!.passed).toBe(false);
    expect(evaluateStep(step('turn-z'), turned(1)).passed).toBe(false);
  });

  it('says that there is no gyroscope, or that most of its readings are missing', () => {
    expect(evaluateStep(step('turn-y'), samples(8)).trouble).toMatch(/No reading of a gyroscope/);
    let n = 0;
    const few = turned(1, (g) => (n++ % 3 === 0 ? null : g));
    expect(evaluateStep(step('turn-y'), few).trouble).toMatch(/Only 427 of 641 samples/);
  });
});

describe('six poses', () => {
  const poses = CHECKLIST.filter((each) => each.kind === 'pose');
  const still = (f: readonly number[]): CheckSample[] =>
    samples(3, () => ({ accelerometer: f.map((g) => Math.round(8192 * g)) as [number, number, number] }));

  it('are six, each passed only by its own direction', () => {
    expect(poses).toHaveLength(6);
    for (const asked of poses)
      for (const held of poses)
        expect(evaluateStep(asked, still(held.expected)).passed, `${asked.id} held ${held.id}`).toBe(
          asked === held,
        );
  });

  it('follow the axes of the sleeve contract, section 1', () => {
    const expected = (id: string) => (step(id) as { expected: readonly number[] }).expected;
    expect(expected('tilt-upright')).toEqual([0, 0, 1]);
    expect(expected('tilt-grip-under')).toEqual([1, 0, 0]);
    expect(expected('tilt-nipple-down')).toEqual([0, 0, -1]);
  });

  it('measures the angle', () => {
    const a = (8 * Math.PI) / 180;
    const result = evaluateStep(step('tilt-upright'), still([Math.sin(a), 0, Math.cos(a)]));
    expect(result.readings[0]!.value).toBeCloseTo(8, 1);
    expect(result.passed).toBe(true);
    expect(passed('tilt-upright', still([0.3, 0, 0.95]))).toBe(false);
  });

  it('fails a wrong size, a moving hand and a faulty accelerometer', () => {
    expect(passed('tilt-upright', still([0, 0, 0.5]))).toBe(false);
    expect(
      passed(
        'tilt-upright',
        samples(3, (_, i) => ({ accelerometer: [i % 2 ? 500 : -500, 0, 8192] })),
      ),
    ).toBe(false);
    expect(
      passed(
        'tilt-upright',
        samples(
          3,
          flagged(SAMPLE_FLAGS.accelerometerFault, (i) => i > 10),
        ),
      ),
    ).toBe(false);
  });
});

describe('button, answers, kitchen', () => {
  const pressedTwice = (i: number) => (i > 100 && i < 110) || (i > 300 && i < 340);

  it('wants two presses, no more', () => {
    expect(passed('button', samples(8, flagged(SAMPLE_FLAGS.buttonDown, pressedTwice)))).toBe(true);
    expect(
      passed(
        'button',
        samples(
          8,
          flagged(SAMPLE_FLAGS.buttonDown, (i) => i > 100 && i < 110),
        ),
      ),
    ).toBe(false);
    const bouncing = (i: number) => pressedTwice(i) || i === 112;
    expect(passed('button', samples(8, flagged(SAMPLE_FLAGS.buttonDown, bouncing)))).toBe(false);
  });

  it('takes the answer for light and buzzer', () => {
    expect(evaluateAnswer(step('light'), true).passed).toBe(true);
    expect(evaluateAnswer(step('buzzer'), false).passed).toBe(false);
  });

  it('wants sleeve and scale to agree within 2 mL', () => {
    // 30 mL of water at 40 °C weigh 29.76 g.
    expect(evaluateKitchen(step('kitchen-warm'), 29.76, 29.76 + 1.9 * 0.992).passed).toBe(true);
    expect(evaluateKitchen(step('kitchen-warm'), 29.76, 29.76 - 2.1 * 0.992).passed).toBe(false);
    expect(evaluateKitchen(step('kitchen-cold'), 29.9, 31).readings[0]!.value).toBeCloseTo(1.1 / 0.998, 6);
    expect(evaluateKitchen(step('kitchen-cold'), 3, 3).passed).toBe(false);
    expect(evaluateKitchen(step('kitchen-cold'), Number.NaN, 30).passed).toBe(false);
  });
});
