/** A bottle held steeply, said once and softly. */
import { describe, expect, it } from 'vitest';
import { encodeMessage } from '../../firmware-bridge/wire/codec.ts';
import { MESSAGES } from '../../firmware-bridge/wire/messages.ts';
import { createEngine, runEngine } from '../../src/feed/engine.ts';
import type { PacingInput } from '../../src/pacing/cues/cue.ts';
import {
  BARE_GUIDANCE,
  createPacing,
  FAMILY_GUIDANCE,
  type Guidance,
  SHIPPED_PROFILE,
  stepPacing,
} from '../../src/pacing/index.ts';
import { HELD_BACK } from '../../src/pacing/screening.ts';
import { parseCalibration } from '../../src/sensing/index.ts';
import { createSimulatedFeed } from '../../src/simulation/simulated-feed.ts';
import { evenMilk, inputList } from '../support/pacing-inputs.ts';

/** Times at which it is said, first and last; null: never. */
function said(
  change: (input: PacingInput) => Partial<PacingInput>,
  flowMlPerMin = 0.5,
  guidance: Guidance = BARE_GUIDANCE,
): [number, number] | null {
  const state = createPacing(SHIPPED_PROFILE, { portionMl: null, guidance });
  const at: number[] = [];
  for (const input of inputList(evenMilk(flowMlPerMin, 120))) {
    const { heldSteeply, showing } = stepPacing(state, { ...input, ...change(input) });
    if (!heldSteeply) continue;
    expect(showing).toBeNull();
    at.push(input.atSec);
  }
  return at.length > 0 ? [at[0]!, at.at(-1)!] : null;
}

describe('a bottle held steeply', () => {
  it('is said after a second, for 20 s, once in a feed', () => {
    const [from, to] = said(() => ({ tiltDeg: 140 }))!;
    expect(from).toBeCloseTo(1, 1);
    expect(to - from).toBeCloseTo(20, 0);
  });

  it('is no longer said once it is lowered, and not again', () => {
    const [from, to] = said(({ atSec }) => ({ tiltDeg: atSec > 8 && atSec < 60 ? 95 : 140 }))!;
    expect(from).toBeLessThan(1.2);
    expect(to).toBeCloseTo(8, 1);
  });

  it('is not said of a level bottle, of one out of the mouth, of a doubtful tilt, or of one that needs to be steep', () => {
    expect(said(() => ({ tiltDeg: 119 }))).toBeNull();
    expect(said(() => ({ tiltDeg: 140, teatInMouth: false }))).toBeNull();
    expect(said(() => ({ tiltDeg: 140, quality: 'none' }))).toBeNull();
    expect(said(() => ({ tiltDeg: 125, coverTiltDeg: 128 }))).toBeNull();
  });

  it('is not said beside a cue, nor after "too fast"', () => {
    // At 45 mL/min "too fast" comes after some 12 s.
    const [from, to] = said(() => ({ tiltDeg: 140 }), 45)!;
    expect(from).toBeLessThan(1.2);
    expect(to).toBeLessThan(15);
    expect(said(({ atSec }) => ({ tiltDeg: atSec < 20 ? 95 : 140 }), 45)).toBeNull();
  });

  it('is said to everybody: it is no cue that screening holds back', () => {
    for (const guidance of [FAMILY_GUIDANCE, { ...FAMILY_GUIDANCE, cuesOff: HELD_BACK }])
      expect(said(() => ({ tiltDeg: 140 }), 0.5, guidance)).not.toBeNull();
  });

  it.each([
    [1, BARE_GUIDANCE],
    [2, FAMILY_GUIDANCE],
    [3, { ...FAMILY_GUIDANCE, cuesOff: HELD_BACK }],
  ])('is said by the sleeve within 5 s of the latch, before 20 mL have run (seed %i)', (seed, guidance) => {
    const feed = createSimulatedFeed({ scenario: 'tipped-up', seed, follows: false });
    const engine = createEngine({
      calibration: parseCalibration(feed.calibration, 'simulated'),
      portionMl: null,
      guidance,
      refinable: false,
    });
    let [latchSec, saidSec, ml] = [Number.NaN, Number.NaN, 0];
    while (Number.isNaN(saidSec) && feed.nextSec < 60) {
      const { sample, truth } = feed.step();
      if (truth.onMouth && Number.isNaN(latchSec)) latchSec = truth.atSec;
      if (!sample) continue;
      runEngine(engine, encodeMessage(MESSAGES.SAMPLE, sample), ({ heldSteeply }) => {
        if (heldSteeply && Number.isNaN(saidSec)) [saidSec, ml] = [truth.atSec, truth.intakeMl];
      });
    }
    expect(saidSec - latchSec).toBeLessThan(5);
    expect(ml).toBeLessThan(20);
  });
});
