import { describe, expect, it } from 'vitest';
import { Caregiver, type Noticed, type SeenCue } from '../../src/simulation/caregiver.ts';
import { PLAIN_PARAMETERS } from '../../src/simulation/defaults.ts';
import type { CaregiverParameters } from '../../src/simulation/parameters.ts';

const STEP_SEC = 0.05;

/** A caregiver with a baby that sucks once a second, five sucks on, three seconds off. */
class Nursery {
  readonly caregiver: Caregiver;
  readonly noticed: Noticed = {
    atSec: 0,
    milkMl: 80,
    intakeMl: 0,
    sucks: 0,
    babyPausing: true,
    coverTiltDeg: 100,
  };
  readonly log: { atSec: number; kind: string }[] = [];
  sucking = true;
  #restSec = 0;

  constructor(differs: Partial<CaregiverParameters> = {}) {
    this.caregiver = new Caregiver({ ...PLAIN_PARAMETERS.caregiver, ...differs }, 3);
  }

  run(sec: number, cue: SeenCue | null = null): this {
    for (let i = 0; i < sec / STEP_SEC; i++) {
      const { noticed } = this;
      noticed.atSec += STEP_SEC;
      const inCycle = noticed.atSec % 8;
      noticed.babyPausing = inCycle > 5 || !this.sucking;
      if (this.caregiver.teatIn && !noticed.babyPausing) {
        this.#restSec += STEP_SEC;
        if (this.#restSec >= 1) {
          this.#restSec = 0;
          noticed.sucks += 1;
          noticed.intakeMl += 0.2;
        }
      }
      this.caregiver.perceive(cue, noticed.atSec);
      this.caregiver.step(noticed);
      if (this.caregiver.teatEvent) {
        this.log.push({ atSec: noticed.atSec, kind: this.caregiver.teatEvent });
      }
    }
    return this;
  }

  get kinds(): string[] {
    return this.log.map((entry) => entry.kind);
  }
}

const steep = { care: 0, steepTiltDeg: 145, follows: true } as const;

describe('a caregiver who follows', () => {
  it('lowers the bottle two to four seconds after the cue, until it has cleared, and holds it flatter then', () => {
    const nursery = new Nursery({ ...steep, carePerCue: 0.5 }).run(30);
    expect(nursery.caregiver.wantedTiltDeg).toBe(145);
    nursery.run(1.9, 'tilt-down');
    expect(nursery.caregiver.wantedTiltDeg).toBe(145);
    nursery.run(2.2, 'tilt-down');
    expect(nursery.caregiver.wantedTiltDeg).toBe(75);
    expect(nursery.caregiver.teatIn).toBe(true);
    nursery.run(6, 'tilt-down');
    expect(nursery.caregiver.wantedTiltDeg).toBe(75);
    nursery.run(10);
    expect(nursery.caregiver.wantedTiltDeg).toBeCloseTo((145 + 100) / 2, 6);
  });

  it('takes a blinking cue for one, and acts on it once', () => {
    const nursery = new Nursery({ ...steep, carePerCue: 0.25 }).run(30);
    for (let i = 0; i < 6; i++) nursery.run(1.2, 'tilt-down').run(0.4);
    nursery.run(20);
    expect(nursery.caregiver.wantedTiltDeg).toBeCloseTo(145 - 0.25 * 45, 6);
  });

  it('burps: teat out, upright for 20 to 40 s, then offers again', () => {
    const nursery = new Nursery(steep).run(30).run(5, 'burp');
    expect(nursery.kinds).toEqual(['latch', 'burp']);
    nursery.run(5);
    // A burp is taken with the teat out for 5 s or more and tilt under 60° (sleeve contract, section 5).
    expect(nursery.caregiver.wantedTiltDeg).toBeLessThan(60);
    nursery.run(60);
    expect(nursery.kinds).toEqual(['latch', 'burp', 'latch']);
    const outSec = nursery.log[2]!.atSec - nursery.log[1]!.atSec;
    expect(outSec).toBeGreaterThan(20);
    expect(outSec).toBeLessThan(43);
  });

  it('changes arms: teat out, brief', () => {
    const nursery = new Nursery(steep).run(30).run(5, 'switch-side').run(15);
    expect(nursery.kinds).toEqual(['latch', 'switch', 'latch']);
    expect(nursery.log[2]!.atSec - nursery.log[1]!.atSec).toBeLessThan(12);
  });

  it('offers once more after offer-stop, and ends at the second', () => {
    const nursery = new Nursery(steep).run(30).run(5, 'offer-stop').run(30).run(5, 'offer-stop').run(20);
    expect(nursery.kinds).toEqual(['latch', 'rest', 'latch', 'end']);
    expect(nursery.caregiver.over).toBe(true);
    expect(nursery.caregiver.onTable).toBe(true);
  });

  it('ends soon after the second offer when the baby does not suck', () => {
    const nursery = new Nursery(steep).run(30).run(5, 'offer-stop');
    nursery.sucking = false;
    nursery.run(50);
    expect(nursery.kinds).toEqual(['latch', 'rest', 'latch', 'end']);
  });
});

describe('a caregiver who does not follow', () => {
  it('takes no notice of any cue', () => {
    const nursery = new Nursery({ ...steep, follows: false }).run(30);
    for (const cue of ['tilt-down', 'burp', 'switch-side', 'offer-stop'] as const) nursery.run(8, cue);
    expect(nursery.kinds).toEqual(['latch']);
    expect(nursery.caregiver.wantedTiltDeg).toBe(145);
  });

  it('ends when the baby has stopped sucking', () => {
    const nursery = new Nursery({ ...steep, giveUpSec: 30 }).run(20);
    nursery.sucking = false;
    expect(nursery.run(25).kinds).toEqual(['latch']);
    expect(nursery.run(10).kinds).toEqual(['latch', 'end']);
  });
});

describe('a careful caregiver', () => {
  it('lowers after 5 to 8 sucks and raises again, by herself', () => {
    const nursery = new Nursery({ care: 1 }).run(8);
    let turns = 0;
    let lowered = false;
    let sucksAtRaise = nursery.noticed.sucks;
    for (let i = 0; i < 1600; i++) {
      nursery.run(STEP_SEC);
      const isLow = nursery.caregiver.wantedTiltDeg < 90;
      if (isLow && !lowered) {
        turns += 1;
        const sucks = nursery.noticed.sucks - sucksAtRaise;
        expect(sucks).toBeGreaterThanOrEqual(5);
        expect(sucks).toBeLessThanOrEqual(8);
      }
      if (!isLow && lowered) sucksAtRaise = nursery.noticed.sucks;
      lowered = isLow;
    }
    expect(turns).toBeGreaterThan(3);
  });
});
