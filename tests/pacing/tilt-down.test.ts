import { describe, expect, it } from 'vitest';
import type { PacingInput } from '../../src/pacing/cues/cue.ts';
import { WORDS } from '../../src/pacing/cues/words.ts';
import { becauseText } from '../../src/pacing/cues/words-because.ts';
import { inputList, inputsOf, pace } from '../support/pacing-inputs.ts';
import type { Suck } from '../support/suck-trains.ts';
import { steadySucks } from '../support/suck-trains.ts';

const tiltDowns = (inputs: Iterable<PacingInput>): number[] =>
  pace(inputs)
    .cues.filter((cue) => cue.kind === 'tilt-down')
    .map((cue) => cue.atSec);

/** Milk pours at 24 mL/min for a minute, then something else, to `endSec`. */
const pouringThen = (later: Suck[], endSec: number) => ({
  sucks: [...steadySucks(24, 0, 40), ...later],
  endSec,
});

describe('too fast for too long', () => {
  it('comes from the lasting bucket when milk is a little fast: 12 mL/min, after 4½ min', () => {
    const { cues } = pace(inputsOf({ sucks: steadySucks(12, 0, 300), endSec: 300 }));
    const cue = cues.find((one) => one.kind === 'tilt-down')!;
    expect(cue.atSec).toBeGreaterThan(265);
    expect(cue.atSec).toBeLessThan(272);
    expect(becauseText(cue.because, 'en')).toBe(
      '1¾ fl oz (54 mL) in 4 min 29 s, about 12 mL/min: ½ fl oz (18 mL) ahead of 8 mL/min.',
    );
  });

  it('says why, with the numbers', () => {
    const { cues } = pace(inputsOf({ sucks: steadySucks(24, 0, 60), endSec: 60 }));
    expect(becauseText(cues[0]!.because, 'en')).toBe(
      '½ fl oz (14 mL) in 35 s, about 24 mL/min: ¼ fl oz (6 mL) ahead of 14 mL/min.',
    );
  });

  it('never comes at 8 mL/min, however long', () => {
    expect(tiltDowns(inputsOf({ sucks: steadySucks(8, 0, 1800), endSec: 1800 }))).toEqual([]);
  });
});

describe('what follows the first tilt-down', () => {
  it('is over 4 s after the last milk', () => {
    const { shown } = pace(inputsOf(pouringThen([], 60)));
    expect(shown.map((one) => one.kind)).toEqual(['tilt-down', null]);
    // The last suck begins at 39 s and gives milk until 39.6 s; the last 0.2 mL of it flow 0.3 s.
    expect(shown[1]!.fromSec).toBeGreaterThan(43);
    expect(shown[1]!.fromSec).toBeLessThan(43.7);
  });

  it('credits that pause: pouring on may go 6 mL further from half of what was ahead', () => {
    // About 6.6 mL ahead at the end, 0.9 drained in 4 s, halved to 2.9; at 24 mL/min 3.1 mL more take 19 s.
    const again = tiltDowns(inputsOf(pouringThen(steadySucks(24, 100, 160), 160)));
    expect(again).toHaveLength(2);
    const fresh = tiltDowns(inputsOf({ sucks: steadySucks(24, 100, 160), endSec: 160 }));
    expect(again[1]).toBeCloseTo(fresh[0]!, 0);
    const soon = tiltDowns(inputsOf(pouringThen(steadySucks(24, 44, 160), 160)));
    expect(soon[1]! - soon[0]!).toBeGreaterThanOrEqual(45);
    expect(soon[1]! - soon[0]!).toBeLessThan(46);
  });

  it('does not come for a crossing within 45 s that has stopped again by itself', () => {
    // Crosses at about 57 s, 22 s after the first; milk stops at 75 s, which is credited at 79 s, before the 45 s are over.
    expect(tiltDowns(inputsOf(pouringThen(steadySucks(30, 45, 75), 120)))).toHaveLength(1);
    expect(tiltDowns(inputsOf(pouringThen(steadySucks(30, 45, 85), 120)))).toHaveLength(2);
  });

  it('comes again when milk keeps pouring: 6 mL more ahead, at 24 mL/min every 36 s', () => {
    const times = tiltDowns(inputsOf({ sucks: steadySucks(24, 0, 150), endSec: 150 }));
    expect(times).toHaveLength(4);
    for (const [index, at] of times.slice(1).entries()) {
      expect(at - times[index]!).toBeGreaterThan(34);
      expect(at - times[index]!).toBeLessThan(38);
    }
  });

  it('that keeps pouring says "keep it low" instead, until milk stops', () => {
    const { cues, shown } = pace(inputsOf({ sucks: steadySucks(24, 0, 100), endSec: 112 }));
    expect(shown.map((one) => one.kind)).toEqual(['tilt-down', 'keep-low', null]);
    expect(shown[1]!.fromSec).toBe(cues.filter((cue) => cue.kind === 'tilt-down')[1]!.atSec);
    expect(shown[2]!.fromSec).toBeGreaterThan(103);
    expect(shown[2]!.fromSec).toBeLessThan(104);
  });

  it('after a pause it begins with the first words again', () => {
    const { shown } = pace(inputsOf(pouringThen(steadySucks(24, 100, 150), 150)));
    expect(shown.map((one) => one.kind)).toEqual(['tilt-down', null, 'tilt-down']);
  });

  it('comes again after 15 s at the soonest, however hard milk pours', () => {
    const times = tiltDowns(inputsOf({ sucks: steadySucks(80, 0, 90), endSec: 90 }));
    for (const [index, at] of times.slice(1).entries()) expect(at - times[index]!).toBeGreaterThanOrEqual(15);
    expect(times.length).toBeGreaterThan(4);
  });

  it('is over when milk has slowed to a gentle flow, though it never stopped', () => {
    const { shown, cues } = pace(inputsOf(pouringThen(steadySucks(6, 40, 240), 240)));
    expect(cues.filter((cue) => cue.kind === 'tilt-down')).toHaveLength(1);
    expect(shown[1]!.fromSec).toBeGreaterThan(55);
    expect(shown[1]!.fromSec).toBeLessThan(65);
  });

  it('is not shown while the nipple is out', () => {
    const { shown } = pace(
      inputsOf({ ...pouringThen([], 60), away: [{ fromSec: 40.5, toSec: 60, tiltDeg: 30 }] }),
    );
    expect(shown[1]).toMatchObject({ kind: null });
    expect(shown[1]!.fromSec).toBeCloseTo(40.5, 1);
  });

  it('does not come from a weighing that corrects the intake with the nipple out', () => {
    const inputs = inputList({
      sucks: steadySucks(6, 0, 60),
      endSec: 120,
      away: [{ fromSec: 62, toSec: 90, tiltDeg: 30 }],
    }).map((input) => (input.atSec > 70 ? { ...input, intakeMl: input.intakeMl + 8 } : input));
    expect(tiltDowns(inputs)).toEqual([]);
  });
});

describe('when lowering does not help', () => {
  it('says "nipple out" after two cues without effect, for as long as milk pours', () => {
    const { shown } = pace(inputsOf({ sucks: steadySucks(30, 0, 180), endSec: 180 }));
    expect(shown.map((one) => one.kind)).toEqual(['tilt-down', 'keep-low', 'nipple-out']);
    expect(shown[2]!.fromSec).toBeLessThan(100);
  });

  it('is over once the nipple is out, and begins anew after a pause that milk stopped in', () => {
    const sucks = [...steadySucks(30, 0, 100), ...steadySucks(30, 130, 180)];
    const away = [{ fromSec: 101, toSec: 129, tiltDeg: 30 }];
    const { shown } = pace(inputsOf({ sucks, away, endSec: 180 }));
    const kinds = shown.map((one) => one.kind);
    expect(kinds.slice(0, 4)).toEqual(['tilt-down', 'keep-low', 'nipple-out', null]);
    expect(shown[3]!.fromSec).toBeCloseTo(101, 0);
    expect(kinds.slice(4)).toContain('tilt-down');
    expect(kinds.slice(4)).not.toContain('nipple-out');
  });

  it('does not come if each cue is followed, however often milk comes fast', () => {
    const bouts = [0, 60, 120, 180, 240].flatMap((fromSec) => steadySucks(26, fromSec, fromSec + 38));
    const { cues, shown } = pace(inputsOf({ sucks: bouts, endSec: 300 }));
    expect(cues.filter(({ kind }) => kind === 'tilt-down').length).toBeGreaterThan(2);
    expect(shown.map((one) => one.kind)).not.toContain('nipple-out');
  });

  it('is one cue with what came before: it is recorded as too fast, and counts once', () => {
    const { cues } = pace(inputsOf({ sucks: steadySucks(30, 0, 180), endSec: 180 }));
    expect(cues.filter(({ kind }) => kind === 'tilt-down').length).toBeGreaterThanOrEqual(3);
    expect(WORDS.en.shown['nipple-out'].glance).toBe('Nipple out');
    expect(WORDS.en.shown['nipple-out'].say).toMatch(/let baby breathe/i);
    expect(WORDS.es.shown['nipple-out'].say).toMatch(/respire/);
  });
});
