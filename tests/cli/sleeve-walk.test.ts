import { Subject } from 'rxjs';
import { describe, expect, it } from 'vitest';
import type { SleeveLink } from '../../firmware-bridge/links/link.ts';
import { encodeMessage, MESSAGES } from '../../firmware-bridge/wire/index.ts';
import type { CheckSample } from '../../hardware/bring-up/check-values.ts';
import { CHECKLIST } from '../../hardware/bring-up/checklist.ts';
import { type CheckedSleeve, walkChecklist } from '../../src/app/sleeve/checklist-walk.ts';
import { listenTo } from '../../src/app/sleeve/listened-sleeve.ts';
import { parseCalibration } from '../../src/sensing/index.ts';
import { createSimulatedFeed } from '../../src/simulation/simulated-feed.ts';
import { turningStreamOf } from '../support/wire.ts';

const stepOf = (id: string) => CHECKLIST.find((step) => step.id === id)!;

/** 80 samples a second at rest, upright, with whatever flags. */
const atRest = (seconds: number, flags = 0): CheckSample[] =>
  Array.from({ length: Math.ceil(seconds * 80) + 1 }, (_, i) => ({
    atSec: i / 80,
    cells: [1000 + (i % 2), 2000 - (i % 2), 3000],
    accelerometer: [0, 0, 8192],
    flags,
    missingBefore: 0,
    resetBefore: false,
  }));

function person(answers: string[]) {
  const said: string[] = [];
  return {
    said,
    say: (text: string) => said.push(text),
    ask: async (question: string) => {
      said.push(question);
      const answer = answers.shift();
      if (answer === undefined) throw new Error(`nobody expected: ${question}`);
      return answer;
    },
  };
}

function sleeve(over: Partial<CheckedSleeve> = {}): CheckedSleeve & { lights: string[] } {
  const lights: string[] = [];
  return {
    lights,
    collect: async (seconds) => atRest(seconds),
    showLight: ({ red, green, blue }) => lights.push(`${red} ${green} ${blue}`),
    playTone: () => lights.push('beep'),
    wait: async (seconds) => {
      lights.push(`${seconds} s`);
    },
    weighGrams: async () => 100,
    calibrated: true,
    ...over,
  };
}

describe('the walk through the checklist', () => {
  it('passes a step on good samples and says every number beside its limit', async () => {
    const talk = person(['']);
    const outcomes = await walkChecklist([stepOf('sample-rate')], sleeve(), talk);
    expect(outcomes).toMatchObject([{ id: 'sample-rate', passed: true }]);
    expect(talk.said.join('\n')).toMatch(/samples a second: 80 \/s \(at least 79.2, at most 80.8\)/);
    expect(talk.said.at(-1)).toMatch(/1 passed, 0 not passed, 0 left out/);
  });

  it('lets a step be done again until it passes', async () => {
    let tries = 0;
    const talk = person(['', '', '']);
    const flaky = sleeve({ collect: async (seconds) => atRest(seconds, tries++ === 0 ? 64 : 0) });
    const outcomes = await walkChecklist([stepOf('supply')], flaky, talk);
    expect(outcomes[0]!.passed).toBe(true);
    expect(tries).toBe(2);
    expect(talk.said).toContain(stepOf('supply').ifItFails);
  });

  it('goes on past a failed step, remembers it, and warns at the end', async () => {
    const talk = person(['', 'n', 's']);
    const silent = sleeve({ collect: async () => [] });
    const outcomes = await walkChecklist([stepOf('supply'), stepOf('sample-rate')], silent, talk);
    expect(outcomes).toMatchObject([{ passed: false }, { passed: null }]);
    expect(talk.said.at(-1)).toMatch(/Not passed: supply[\s\S]*Do not use this sleeve at a baby/);
  });

  it('shows one color after the other, each long enough to be named, and asks for that order', async () => {
    const lit = sleeve();
    const talk = person(['', 'y']);
    const outcomes = await walkChecklist([stepOf('light')], lit, talk);
    expect(lit.lights.slice(0, 6)).toEqual(['200 0 0', '2 s', '0 200 0', '2 s', '0 0 200', '2 s']);
    expect(lit.lights.slice(6).every((shown) => shown === '0 0 0')).toBe(true);
    expect(talk.said.join('\n')).toMatch(/red, then green, then blue/);
    expect(outcomes[0]!.passed).toBe(true);
    const swapped = await walkChecklist([stepOf('light')], sleeve(), person(['', 'n', 'n']));
    expect(swapped[0]!.passed).toBe(false);
  });

  it('is white only while it asks what the baby sees, and beeps once where it asks about one beep', async () => {
    const lit = sleeve();
    await walkChecklist([stepOf('light-hidden')], lit, person(['', 'y']));
    expect(lit.lights).toEqual(['200 200 200', '0 0 0']);
    const heard = sleeve();
    await walkChecklist([stepOf('buzzer')], heard, person(['', 'y']));
    expect(heard.lights.filter((shown) => shown === 'beep')).toHaveLength(1);
  });

  it('holds the sleeve against the kitchen scale, water by its density', async () => {
    const step = CHECKLIST.find((one) => one.kind === 'kitchen')!;
    const weighings = [130, 99];
    const good = sleeve({ weighGrams: async () => weighings.shift()! });
    const outcomes = await walkChecklist([step], good, person(['', '', '29.9']));
    expect(outcomes[0]).toMatchObject({ passed: true });
    const off = [130, 95];
    const bad = await walkChecklist(
      [step],
      sleeve({ weighGrams: async () => off.shift()! }),
      person(['', '', '30', 'n']),
    );
    expect(bad[0]).toMatchObject({ passed: false });
  });

  it('leaves the kitchen check out where nothing is calibrated, and says why', async () => {
    const step = CHECKLIST.find((one) => one.kind === 'kitchen')!;
    const talk = person([]);
    const outcomes = await walkChecklist([step], sleeve({ calibrated: false }), talk);
    expect(outcomes[0]!.passed).toBeNull();
    expect(talk.said.join('\n')).toMatch(/needs a calibration/);
  });
});

describe('listening to a sleeve', () => {
  it('collects so many seconds of samples and weighs the still bottle', async () => {
    const feed = createSimulatedFeed({ scenario: 'paced', seed: 3 });
    const bytes$ = new Subject<Uint8Array>();
    const link = { bytes$ } as unknown as SleeveLink;
    const listened = listenTo(link, parseCalibration(feed.calibration, 'of the test'));
    const send = (seconds: number) => {
      for (let i = 0; i < seconds * 80; i++) {
        const { sample } = feed.step();
        if (sample) bytes$.next(encodeMessage(MESSAGES.SAMPLE, sample));
      }
    };
    const collecting = listened.collect(1);
    send(1.5);
    const samples = await collecting;
    expect(samples.at(-1)!.atSec - samples[0]!.atSec).toBeCloseTo(1, 1);
    const weighing = listened.weighGrams();
    send(5.5);
    expect(Math.abs((await weighing)! - 103)).toBeLessThan(2);
  });

  it('hears how a sleeve with a gyroscope turns, sample by sample', async () => {
    const bytes$ = new Subject<Uint8Array>();
    const listened = listenTo({ bytes$ } as unknown as SleeveLink, null);
    const collecting = listened.collect(2);
    for (let from = 0; from < 200; from += 10) bytes$.next(turningStreamOf(from, 10));
    const samples = await collecting;
    expect(samples.slice(1).every(({ gyroscope }) => gyroscope?.[2] === 7)).toBe(true);
  });
});
