/** The mouth at the teat, on made-up pulls. */
import { describe, expect, it } from 'vitest';
import { createMouth, type MouthState, trackMouth } from '../../src/sensing/mouth/mouth.ts';
import { sucksAreFaint, takeSuckUnits, trackSuck } from '../../src/sensing/mouth/suck.ts';
import { seededRandom } from '../support/random.ts';

const SAMPLE_SEC = 0.0125;

interface Forces {
  /** Along the axis, suction positive, and across; N. */
  alongN: number;
  acrossN?: number;
  known?: boolean;
}

/** Runs `forces` over `durationSec`: each sample through the suck tracker, each fourth through the mouth, as the sensor does. */
function play(
  mouth: MouthState,
  fromSec: number,
  durationSec: number,
  forces: (atSec: number) => Forces,
  onBlock?: (atSec: number) => void,
): void {
  const samples = Math.round(durationSec / SAMPLE_SEC);
  let along = 0;
  let across = 0;
  for (let i = 1; i <= samples; i++) {
    const atSec = fromSec + i * SAMPLE_SEC;
    const { alongN, acrossN = 0, known = true } = forces(atSec);
    along += alongN / 4;
    across += acrossN / 4;
    if (known) trackSuck(mouth, alongN - mouth.baseZ, { atSec, stepSec: SAMPLE_SEC });
    if (i % 4 !== 0) continue;
    trackMouth(mouth, across, along, 4 * SAMPLE_SEC, 1, known);
    along = 0;
    across = 0;
    onBlock?.(atSec);
  }
}

/** One pull: raised cosine over the first four fifths of its period. */
const pullAt = (phase: number): number => (phase < 0.8 ? Math.sin((Math.PI * phase) / 0.8) ** 2 : 0);

/** A mouth that presses the teat in by 0.4 N and sucks with `peakN` at `hz`, over a little noise. */
function sucking(hz: number, peakN: number, seed = 1): (atSec: number) => Forces {
  const random = seededRandom(seed);
  return (atSec) => ({ alongN: peakN * pullAt((atSec * hz) % 1) - 0.4 + 0.04 * (random() - 0.5) });
}

function latchedMouth(): MouthState {
  const mouth = createMouth();
  play(mouth, 0, 1, () => ({ alongN: -0.4 }));
  expect(mouth.inMouth).toBe(true);
  return mouth;
}

describe('sucks', () => {
  // Sucks come at 55 a minute at 1–4 days and 70 a minute at 1 month (Qureshi et al. 2002, Dev Med Child Neurol 44:34-39): 0.9 to 1.2 Hz.
  it.each([0.8, 0.9, 1, 1.1, 1.2, 1.3])('are counted at %f Hz', (hz) => {
    const mouth = latchedMouth();
    play(mouth, 1, 40, sucking(hz, 0.9));
    expect(Math.abs(mouth.suckCount - 40 * hz)).toBeLessThanOrEqual(1);
    expect(mouth.suckPeriodSec).toBeCloseTo(1 / hz, 1);
  });

  it('are counted when weak, and when they grow from strong to weak', () => {
    const weak = latchedMouth();
    play(weak, 1, 30, sucking(1, 0.25));
    expect(Math.abs(weak.suckCount - 30)).toBeLessThanOrEqual(2);
    const fading = latchedMouth();
    const strong = sucking(1, 0.9);
    play(fading, 1, 30, (atSec) => {
      const share = 1 - atSec / 45;
      return { alongN: (strong(atSec).alongN + 0.4) * share - 0.4 };
    });
    expect(Math.abs(fading.suckCount - 30)).toBeLessThanOrEqual(1);
  });

  it.each([
    [1, true],
    [2, true],
    [3, false],
  ])('that are %i and then none for nine seconds: too weak to be seen, %s', (sucks, unseen) => {
    const mouth = latchedMouth();
    play(mouth, 1, sucks, sucking(1, 0.9));
    expect(mouth.suckCount).toBe(sucks);
    play(mouth, 1 + sucks, 7, () => ({ alongN: -0.4 }));
    expect(sucksAreFaint(mouth)).toBe(false);
    play(mouth, 8 + sucks, 2, () => ({ alongN: -0.4 }));
    expect(sucksAreFaint(mouth)).toBe(unseen);
  });

  it('with a second hump are one', () => {
    const mouth = latchedMouth();
    // In every third suck the pull sinks by more than half and rises again a quarter of a second later.
    play(mouth, 1, 30, (atSec) => {
      const phase = atSec % 1;
      const double = Math.floor(atSec) % 3 === 0;
      const hump = (centre: number): number =>
        Math.abs(phase - centre) < 0.15 ? Math.cos(((phase - centre) / 0.15) * (Math.PI / 2)) ** 2 : 0;
      const pull = double
        ? Math.max(hump(0.2), hump(0.45), phase > 0.2 && phase < 0.45 ? 0.3 : 0)
        : pullAt(phase);
      return { alongN: 0.9 * pull - 0.4 };
    });
    expect(Math.abs(mouth.suckCount - 30)).toBeLessThanOrEqual(1);
  });

  it('are told with the moment each began', () => {
    const mouth = latchedMouth();
    const pulls = sucking(0.5, 0.9);
    play(mouth, 1, 2.5, (atSec) => (atSec < 2 ? { alongN: -0.4 } : pulls(atSec)));
    // The pull began at 2.0 s.
    expect(mouth.suckCount).toBe(1);
    expect(mouth.lastSuckAtSec).toBeGreaterThan(2);
    expect(mouth.lastSuckAtSec).toBeLessThan(2.5);
  });

  it('are none while the force only wanders, nor while the teat is out', () => {
    const mouth = latchedMouth();
    play(mouth, 1, 30, (atSec) => ({ alongN: -0.4 + 0.1 * Math.sin(atSec / 4) }));
    expect(mouth.suckCount).toBe(0);
    const out = createMouth();
    for (let i = 0; i < 800; i++)
      trackSuck(out, 0.9 * pullAt((i * SAMPLE_SEC) % 1), { atSec: i * SAMPLE_SEC, stepSec: SAMPLE_SEC });
    expect(out.suckCount).toBe(0);
  });

  it('hand out one suck of milk each, within its pull', () => {
    const mouth = latchedMouth();
    let units = 0;
    const handedAt: number[] = [];
    play(mouth, 1, 30, sucking(1, 0.9), (atSec) => {
      const now = takeSuckUnits(mouth, 4 * SAMPLE_SEC);
      units += now;
      if (now > 0) handedAt.push(atSec % 1);
    });
    expect(units).toBeCloseTo(mouth.suckCount, 0);
    // No milk flows between two pulls.
    expect(handedAt.filter((phase) => phase > 0.9)).toEqual([]);
  });
});

describe('the teat', () => {
  /** First block time at which `inMouth` is `wanted`, from `fromSec` on. */
  function turnsAt(
    mouth: MouthState,
    wanted: boolean,
    fromSec: number,
    forces: (atSec: number) => Forces,
  ): number {
    let found = Number.NaN;
    play(mouth, fromSec, 5, forces, (atSec) => {
      if (Number.isNaN(found) && mouth.inMouth === wanted) found = atSec;
    });
    return found - fromSec;
  }

  it('is in after a force along the axis has lasted a quarter of a second', () => {
    for (const alongN of [-0.4, 0.3, 1]) {
      const delaySec = turnsAt(createMouth(), true, 0, () => ({ alongN }));
      expect(delaySec).toBeGreaterThanOrEqual(0.25);
      expect(delaySec).toBeLessThanOrEqual(0.35);
    }
  });

  it('is not taken as in for a knock', () => {
    const mouth = createMouth();
    play(mouth, 0, 3, (atSec) => ({ alongN: atSec > 1 && atSec < 1.1 ? 0.5 : 0 }));
    expect(mouth.inMouth).toBe(false);
  });

  it('is not taken as in for a hand that leans on the side', () => {
    const mouth = createMouth();
    play(mouth, 0, 5, () => ({ alongN: 0, acrossN: 0.5 }));
    expect(mouth.inMouth).toBe(false);
    expect(mouth.quiet).toBe(false);
  });

  it('is out half a second after the force is gone, not in the pause of a burst', () => {
    const mouth = latchedMouth();
    play(mouth, 1, 10, sucking(1, 0.9));
    play(mouth, 11, 8, () => ({ alongN: -0.4, acrossN: 0.15 }));
    expect(mouth.inMouth).toBe(true);
    const delaySec = turnsAt(mouth, false, 19, () => ({ alongN: 0 }));
    expect(delaySec).toBeGreaterThanOrEqual(0.75);
    expect(delaySec).toBeLessThanOrEqual(1.1);
  });

  it('is out also when a drifted zero looks like a faint, motionless mouth', () => {
    const mouth = latchedMouth();
    const delaySec = turnsAt(mouth, false, 1, () => ({ alongN: -0.08 }));
    expect(delaySec).toBeLessThanOrEqual(4);
    // By then the drift has been learned, and the bottle may be weighed again.
    play(mouth, 6, 10, () => ({ alongN: -0.08 }));
    expect(mouth.baseZ).toBeCloseTo(-0.08, 2);
    expect(mouth.quiet).toBe(true);
  });

  it('stays as it was while a cell is away, and nothing is weighed then', () => {
    const mouth = latchedMouth();
    play(mouth, 1, 5, () => ({ alongN: 0, known: false }));
    expect(mouth.inMouth).toBe(true);
    expect(mouth.quiet).toBe(false);
  });

  it('has no milk left to hand out when it goes out', () => {
    const mouth = latchedMouth();
    play(mouth, 1, 1.3, sucking(1, 0.9));
    expect(mouth.owedSucks).toBeGreaterThan(0);
    play(mouth, 2.3, 3, () => ({ alongN: 0 }));
    expect(mouth.inMouth).toBe(false);
    expect(takeSuckUnits(mouth, 1)).toBe(0);
  });
});
