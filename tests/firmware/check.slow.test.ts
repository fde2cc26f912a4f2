/** The bring-up check on the emulated chip: the light and buzzer do what the questions ask about. */
import { describe, expect, it } from 'vitest';
import { createSleeveBoard } from '../../firmware-bridge/board.ts';
import { EmulatedSleeve, type Look } from '../../firmware-bridge/links/emulated-sleeve.ts';
import { createSimulatedLink } from '../../firmware-bridge/links/simulated-link.ts';
import { createSampleReader, type TimedSample } from '../../firmware-bridge/wire/index.ts';
import { evaluateStep } from '../../hardware/bring-up/check-steps.ts';
import { CHECKLIST } from '../../hardware/bring-up/checklist.ts';
import { checkedSleeve } from '../../src/app/sleeve/checked-sleeve.ts';
import { walkChecklist } from '../../src/app/sleeve/checklist-walk.ts';
import { accelerometerAt, cellsAt, EmulatedBench } from '../support/emulated.ts';
import { createVirtualClock } from '../support/virtual-clock.ts';

/** Walks one step in virtual time; the person answers after ten seconds. @returns what light and buzzer did meanwhile */
async function walked(id: string) {
  const clock = createVirtualClock();
  const looks: Look[] = [];
  const sleeve = new EmulatedSleeve({
    surroundings: {
      at: (atSec) => ({ cells: cellsAt(atSec), accelerometer: accelerometerAt(atSec), buttonDown: false }),
    },
    onLook: (look) => looks.push(look),
  });
  const link = createSimulatedLink(sleeve, { label: 'emulated sleeve' }, clock.scheduler);
  const board = createSleeveBoard(link, {}, clock.scheduler);
  await link.open();
  await clock.advance(1000);
  await board.ready;
  const checked = checkedSleeve(link, board, null, clock.scheduler);
  const from = looks.length;
  let asked = (): void => {};
  const question = new Promise<void>((resolve) => {
    asked = resolve;
  });
  const talk = {
    say: () => {},
    ask: async (text: string) => {
      if (!/y\/n/.test(text)) return '';
      asked();
      return 'y';
    },
  };
  const walk = walkChecklist(
    CHECKLIST.filter((step) => step.id === id),
    checked,
    talk,
  );
  await clock.advance(10_000);
  await question;
  const outcomes = await walk;
  checked.close();
  board.close();
  return { outcomes, looks: looks.slice(from), tones: sleeve.tones };
}

describe('the check of light and buzzer', () => {
  it('shows red, then green, then blue at the pins, each for two seconds, and nothing else', async () => {
    const { outcomes, looks } = await walked('light');
    const runs: { color: string; sec: number }[] = [];
    for (const { light } of looks) {
      const color = `${light.red} ${light.green} ${light.blue}`;
      if (runs.at(-1)?.color !== color) runs.push({ color, sec: 0 });
      runs.at(-1)!.sec += 0.05;
    }
    const lit = runs.filter(({ color }) => color !== '0 0 0');
    expect(lit.map(({ color }) => color)).toEqual(['200 0 0', '0 200 0', '0 0 200']);
    for (const { sec } of lit) expect(Math.abs(sec - 2)).toBeLessThan(0.15);
    expect(outcomes).toMatchObject([{ passed: true }]);
  });

  it('sounds once where it asks about one sound', async () => {
    const { tones } = await walked('buzzer');
    expect(tones).toHaveLength(1);
    expect(tones[0]!.toSec - tones[0]!.fromSec).toBeCloseTo(0.4, 1);
  });
});

describe('the check of the converters’ clock', () => {
  const judgedWith = (clocksOff: readonly number[]) => {
    const bench = new EmulatedBench();
    bench.sleeve.converters.forEach((converter, cell) => {
      converter.fault = { clockOff: clocksOff[cell]! };
    });
    bench.run(1);
    const reader = createSampleReader((sample) => samples.push(sample));
    const samples: TimedSample[] = [];
    for (let i = 0; i < 220; i++) reader.take(bench.sleeve.advance(bench.atSec + 0.05));
    return evaluateStep(CHECKLIST.find(({ id }) => id === 'shared-clock')!, samples);
  };

  it('passes three converters on one clock, though it be a little off', () => {
    expect(judgedWith([0.002, 0.002, 0.002])).toMatchObject({ passed: true, trouble: null });
  });

  it('finds clocks of their own, which differ by little', () => {
    // Their built-in oscillators may be some per cent apart.
    const { passed, trouble, readings } = judgedWith([0.02, 0, -0.013]);
    expect(passed).toBe(false);
    expect(trouble).toContain('clocks of their own');
    expect(readings[0]!.value).toBeLessThan(20);
  });
});
