/** A vibration motor in the grip, if fitted: it is used instead of the buzzer, and samples taken meanwhile are flagged. */
import { describe, expect, it } from 'vitest';
import { encodeMessage, MESSAGES } from '../../firmware-bridge/wire/index.ts';
import { pinNamed } from '../../hardware/pins.ts';
import { createEngine, type EngineTick, runEngine } from '../../src/feed/engine.ts';
import { notesFor } from '../../src/feed/live/light-language.ts';
import { DOUBT_MS } from '../../src/feed/live/showing.ts';
import { parseCalibration } from '../../src/sensing/index.ts';
import { createSimulatedFeed } from '../../src/simulation/simulated-feed.ts';
import { EmulatedBench } from '../support/emulated.ts';

const FITTED = 1;
const EEPROM_GRIP_MOTOR = 6;
const ALL_CELLS = 0b111;
const notes = notesFor('tilt-down')!;

function bench(fitted: number): EmulatedBench {
  const made = new EmulatedBench({ chunkSec: 0.005 });
  made.sleeve.chip.eeprom.memory[EEPROM_GRIP_MOTOR] = fitted;
  made.sleeve.chip.reset('power');
  made.beat(true);
  made.run(1);
  return made;
}

/** The motor's pin every 5 ms, and the sample flags, from the start of the notes on. */
function play(made: EmulatedBench, sec: number) {
  const fromSec = made.atSec;
  const { bit } = pinNamed('GRIP_MOTOR');
  const runs: number[] = [];
  made.sound(notes);
  for (let step = 0; step < sec / 0.005; step++) {
    made.run(0.005);
    if (made.sleeve.chip.parts.portB.pinState(bit) === 1) runs.push(made.atSec - fromSec);
  }
  const flagged = made.samples
    .filter(({ heardAtSec, flags }) => heardAtSec > fromSec && (flags & ALL_CELLS) !== 0)
    .map(({ heardAtSec, flags }) => ({ atSec: heardAtSec - fromSec, flags: flags & ALL_CELLS }));
  return { runs, flagged };
}

describe('a sleeve with a motor in its grip', () => {
  const made = bench(FITTED);
  const { runs, flagged } = play(made, 1.5);

  it('shakes in the rhythm of the notes, and the buzzer is silent', () => {
    const expected = (atSec: number) =>
      (atSec * 1000) % (notes.onMs + notes.offMs) < notes.onMs && atSec < 0.53;
    for (let ms = 10; ms < 1400; ms += 10) {
      const edge = [180, 340, 520].some((at) => Math.abs(ms - at) <= 10);
      if (!edge)
        expect([ms, runs.some((at) => Math.abs(at * 1000 - ms) < 3)]).toEqual([ms, expected(ms / 1000)]);
    }
    expect(made.sleeve.tones).toEqual([]);
  });

  it('marks all three loads from the first shake until the cells are at rest, and no longer than doubt lasts', () => {
    expect(flagged.every(({ flags }) => flags === ALL_CELLS)).toBe(true);
    expect(flagged[0]!.atSec).toBeLessThan(0.03);
    const lastSec = flagged.at(-1)!.atSec;
    expect(lastSec).toBeGreaterThan(0.52 + 0.13);
    expect(lastSec * 1000).toBeLessThan(DOUBT_MS);
    for (const [index, { atSec }] of flagged.entries()) {
      if (index > 0) expect(atSec - flagged[index - 1]!.atSec).toBeLessThan(0.03);
    }
  });

  it('stops at once when its host falls silent', () => {
    const quiet = bench(FITTED);
    quiet.sound({ frequencyHz: 440, onMs: 60_000, offMs: 0, repeats: 1 });
    quiet.beat(false);
    quiet.run(2.6);
    expect(quiet.sleeve.chip.parts.portB.pinState(pinNamed('GRIP_MOTOR').bit)).toBe(0);
    expect(quiet.run(0.2).every(({ flags }) => (flags & ALL_CELLS) === 0)).toBe(true);
  });
});

describe('a sleeve without one', () => {
  it.each([0xff, 0])('sounds and marks nothing (EEPROM byte %i)', (byte) => {
    const made = bench(byte);
    const { runs, flagged } = play(made, 1);
    expect(runs).toEqual([]);
    expect(flagged).toEqual([]);
    expect(made.sleeve.tones).toHaveLength(notes.repeats);
  });
});

describe('a feed with a shake every 45 seconds', () => {
  it('measures as well as one without, and never loses its guidance', () => {
    const ends = [false, true].map((shaken) => {
      const shakes = Array.from({ length: 6 }, (_, index) => 30 + 45 * index);
      const faults = (['axialCellFault', 'frontCellFault', 'rearCellFault'] as const).flatMap((what) =>
        shaken ? shakes.map((fromSec) => ({ what, fromSec, toSec: fromSec + 0.67 })) : [],
      );
      const feed = createSimulatedFeed({ scenario: 'tipped-up', seed: 11, overrides: { chip: { faults } } });
      const calibration = parseCalibration(feed.calibration, 'of the simulated sleeve');
      const engine = createEngine({ calibration, portionMl: null, refinable: false });
      let longestDoubtSec = 0;
      let doubtSec = 0;
      let intakeMl = 0;
      let known = false;
      const onTick = ({ moment }: EngineTick) => {
        known ||= moment.quality !== 'invalid' && moment.teatInMouth;
        doubtSec = known && moment.quality === 'invalid' ? doubtSec + moment.stepSec : 0;
        longestDoubtSec = Math.max(longestDoubtSec, doubtSec);
        intakeMl = moment.intakeMl;
      };
      while (!feed.done) {
        const { sample } = feed.step();
        if (sample) runEngine(engine, encodeMessage(MESSAGES.SAMPLE, sample), onTick);
      }
      return { errorMl: intakeMl - feed.truth.intakeMl, longestDoubtSec };
    });
    const [plain, shaken] = ends as [(typeof ends)[0], (typeof ends)[0]];
    expect(Math.abs(shaken.errorMl - plain.errorMl)).toBeLessThan(0.5);
    expect(shaken.longestDoubtSec - plain.longestDoubtSec).toBeLessThan(DOUBT_MS / 1000);
  });
});
