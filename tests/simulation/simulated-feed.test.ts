import { mean } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { SAMPLE_FLAGS } from '../../firmware-bridge/wire/messages.ts';
import { laidOver, type Overrides } from '../../src/simulation/parameters.ts';
import { PLAIN } from '../../src/simulation/real-hand.ts';
import type { ScenarioName } from '../../src/simulation/scenarios.ts';
import { createSimulatedFeed } from '../../src/simulation/simulated-feed.ts';
import type { SimulatedStep } from '../../src/simulation/truth.ts';

/** Plays a feed for `sec` seconds and hands on every step. */
function play(
  scenario: ScenarioName,
  sec: number,
  overrides: Overrides = {},
  each: (step: SimulatedStep) => void = () => {},
) {
  const feed = createSimulatedFeed({ scenario, seed: 5, overrides });
  for (let i = 0; i < sec * 80; i++) each(feed.step());
  return feed.truth;
}

describe('a simulated feed', () => {
  it('starts upright and still for at least 3 s, weighing its full weight', () => {
    play('hurried-start', 3.2, {}, ({ truth }) => {
      expect(truth.tiltDeg).toBe(0);
      expect(truth.onMouth).toBe(false);
      // 168 g of bottle and cup, 100 mL of milk of 1.03 g/mL, times g0 (CGPM 1901).
      expect(truth.loads[1]).toBeCloseTo((0.168 + 0.1 * 1.03) * 9.80665, 6);
      expect(truth.loads[0]).toBe(0);
    });
  });

  it('sends 80 samples a second with device time, sequence and accelerometer', () => {
    const samples: NonNullable<SimulatedStep['sample']>[] = [];
    play('paced', 10, {}, ({ sample }) => samples.push(sample!));
    expect(samples).toHaveLength(800);
    for (let i = 1; i < samples.length; i++) {
      expect((samples[i]!.sequence - samples[i - 1]!.sequence + 65536) % 65536).toBe(1);
      const stepMicros = (samples[i]!.timeMicros - samples[i - 1]!.timeMicros + 2 ** 32) % 2 ** 32;
      expect(Math.abs(stepMicros - 12_500)).toBeLessThan(200);
    }
    const upright = mean(samples.slice(0, 80).map((sample) => sample.accelerometer[2]));
    expect(Math.abs(upright / 8192 - 1)).toBeLessThan(0.1);
  });

  it.each([
    // 55 sucks a minute at 1–4 days, 70 at one month (Qureshi 2002, abstract).
    ['1–4 days', 55],
    ['1 month', 70],
  ])('sucks at %s as often in a burst as published', (_, suckRatePerMin) => {
    const { suckTimes } = play('tipped-up', 120, { baby: { suckRatePerMin } });
    const within = suckTimes.map((at, i) => at - (suckTimes[i - 1] ?? 0)).filter((gapSec) => gapSec < 1.6);
    expect(within.length).toBeGreaterThan(80);
    expect(60 / mean(within)).toBeGreaterThan(suckRatePerMin * 0.96);
    expect(60 / mean(within)).toBeLessThan(suckRatePerMin * 1.04);
  });

  it('takes 0.17 to 0.30 mL a suck in a careful hold, as babies of 1–30 days do', () => {
    // Qureshi 2002 (abstract): 0.17 ± 0.08 mL at 1–4 days, 0.30 ± 0.11 mL at 1 month.
    const { intakeMl, sucks } = play('paced', 300);
    expect(intakeMl / sucks).toBeGreaterThan(0.17 - 0.08);
    expect(intakeMl / sucks).toBeLessThan(0.3 + 0.11);
  });

  it('gives no milk while the hole is not covered', () => {
    const flat = play('tipped-up', 60, { caregiver: { care: 0, steepTiltDeg: 75 } });
    expect(flat.sucks).toBeGreaterThan(10);
    expect(flat.intakeMl).toBe(0);
    let before = 0;
    let bareSteps = 0;
    let drawnBare = 0;
    play('paced', 120, {}, ({ truth }) => {
      if (truth.headMm <= 0) {
        drawnBare += truth.intakeMl - before;
        bareSteps += 1;
      }
      before = truth.intakeMl;
    });
    expect(bareSteps).toBeGreaterThan(1000);
    expect(drawnBare).toBe(0);
  });

  it('gives more milk the steeper the hold', () => {
    // Flow rises with tilt, horizontal < semi < inverted (Am J Speech Lang Pathol 2023, abstract).
    const at = (steepTiltDeg: number): number =>
      play('tipped-up', 60, { caregiver: { care: 0, steepTiltDeg }, hand: { tiltWanderDeg: 0 } }).intakeMl;
    const intakes = [93, 120, 165].map(at);
    expect(intakes[0]).toBeLessThan(intakes[1]!);
    expect(intakes[1]).toBeLessThan(intakes[2]!);
  });

  it('shows the mouth: suction pulls, gums push, nothing while the teat is out', () => {
    let pull = 0;
    let out = 0;
    play('tipped-up', 60, {}, ({ truth }) => {
      if (truth.onMouth) pull = Math.max(pull, truth.mouthForceZN);
      else out = Math.max(out, Math.abs(truth.mouthForceZN), Math.abs(truth.mouthForceXN));
    });
    expect(pull).toBeGreaterThan(0.4);
    expect(out).toBe(0);
  });

  it('feels the milk gathered on the low side of a tilted, rolled bottle', () => {
    // Cylinder cut obliquely (handbook): lateral −R²t/(4d), axial d/2 + R²t²/(8d) with mean depth d and slope t;
    // with roll the lateral part is shared by cosine (sleeve contract, section 1).
    const radiusMm = 28;
    const depthMm = 45;
    const rollDeg = 30;
    const milkMl = (Math.PI * radiusMm ** 2 * depthMm) / 1000;
    const bottle = {
      innerProfileMm: [
        [0, radiusMm],
        [130, radiusMm],
      ] as const,
    };
    const overrides: Overrides = {
      milkMl,
      bottle,
      hand: { motionScale: 0, rollDeg },
      caregiver: { burpEveryMl: 0.001 },
      baby: {
        letDown: {
          perSideMl: 0.01,
          shareByMin: [
            [0, 0],
            [1, 1],
          ],
        },
      },
    };
    let last: SimulatedStep['truth'] | null = null;
    const out = play('paced', 45, overrides, ({ truth }) => {
      // Held at rest for a burp, a second before the teat goes in again.
      if (!truth.onMouth && truth.atSec > 20 && truth.tiltDeg > 24.9 && truth.tiltDeg < 25.1) last = truth;
    });
    expect(out.events[1]!.kind).toBe('burp');
    const { loads, tiltDeg, milkMl: leftMl } = last!;
    const tilt = (tiltDeg * Math.PI) / 180;
    const feltX = Math.sin(tilt) * Math.cos((rollDeg * Math.PI) / 180);
    const slope = Math.tan(tilt);
    const meanMm = (leftMl * 1000) / (Math.PI * radiusMm ** 2);
    const xMm = ((-(radiusMm ** 2) * slope) / (4 * meanMm)) * Math.cos((rollDeg * Math.PI) / 180);
    const zMm = meanMm / 2 + (radiusMm ** 2 * slope ** 2) / (8 * meanMm);
    const milkN = leftMl * 1.03e-3 * 9.80665;
    const emptyN = 0.168 * 9.80665;
    const momentNm = (milkN * (feltX * zMm - Math.cos(tilt) * xMm) + emptyN * feltX * 78) / 1000;
    expect(Math.abs(loads[2] - momentNm)).toBeLessThan(2e-4);
    expect(Math.abs(loads[0] - (milkN + emptyN) * feltX)).toBeLessThan(1e-6);
  });

  it('lets the milk follow the bottle about a tenth of a second late', () => {
    const coveredAt = (lagSec: number): number => {
      let atSec = 0;
      play(
        'tipped-up',
        12,
        laidOver(PLAIN, { liquid: { lagSec }, hand: { motionScale: 0 } }),
        ({ truth }) => {
          if (atSec === 0 && truth.headMm > 0) atSec = truth.atSec;
        },
      );
      return atSec;
    };
    const lateSec = coveredAt(0.1) - coveredAt(1e-6);
    expect(lateSec).toBeGreaterThan(0.06);
    expect(lateSec).toBeLessThan(0.16);
  });

  it('tells of lost samples by their sequence, of a reset by its flag, of faults by theirs', () => {
    let lost = 0;
    let last: number | null = null;
    const resets: number[] = [];
    let faulty = 0;
    const overrides: Overrides = {
      chip: {
        lossChance: 0.01,
        resetsAtSec: [10],
        faults: [{ what: 'frontCellFault', fromSec: 15, toSec: 16 }],
      },
    };
    const truth = play('paced', 20, overrides, ({ sample, truth }) => {
      if (!sample) return;
      const first = (sample.flags & SAMPLE_FLAGS.firstAfterReset) !== 0;
      if (first) {
        resets.push(truth.atSec);
        expect(sample.timeMicros).toBeLessThan(1_000_000);
      } else if (last !== null) lost += (sample.sequence - last - 1 + 65536) % 65536;
      last = sample.sequence;
      if (sample.flags & SAMPLE_FLAGS.frontCellFault) faulty += 1;
    });
    expect(resets).toHaveLength(1);
    expect(resets[0]! - 10).toBeCloseTo(1.2, 1);
    expect(truth.events.map((event) => event.kind)).toContain('chip-reset');
    expect(faulty).toBeGreaterThan(70);
    // The number of missing samples is right, apart from a few that were lost just around the reset.
    expect(20 * 80 - truth.frames - 1.2 * 80 - lost).toBeLessThan(6);
    expect(lost).toBeGreaterThan(10);
  });

  it('lets the device clock wrap', () => {
    const times: number[] = [];
    play('paced', 4, { chip: { clockStartMicros: 2 ** 32 - 2e6 } }, ({ sample }) =>
      times.push(sample!.timeMicros),
    );
    expect(Math.min(...times)).toBeLessThan(20_000);
    expect(Math.max(...times)).toBeGreaterThan(2 ** 32 - 20_000);
  });

  it('refuses what cannot be', () => {
    expect(() => createSimulatedFeed({ scenario: 'paced', seed: 1, overrides: { milkMl: 900 } })).toThrow(
      /900.*holds/,
    );
    expect(() => createSimulatedFeed({ scenario: 'nonsense' as ScenarioName, seed: 1 })).toThrow(/nonsense/);
  });
});
