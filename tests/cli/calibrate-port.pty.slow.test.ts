/** `ebbline sleeve calibrate --port` on a pseudo-terminal, with the real serial library. Waits for events only. */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { walkThrough } from '../../src/app/calibration/guided-walk.ts';
import { type HoldSource, serialHolds } from '../../src/app/calibration/hold-source.ts';
import { stepsOf } from '../../src/calibration/walk/walk-so-far.ts';
import { nextStep, type WalkState } from '../../src/calibration/walk/walk-state.ts';
import { BenchHands, createBenchSleeve } from '../support/bench-sleeve.ts';
import { begun, benchFor } from '../support/calibration-walk.ts';
import { requireBuild, startCommand } from '../support/command.ts';
import { noPseudoTerminal, openPseudoTerminal, type PseudoTerminal } from '../support/pseudo-terminal.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

describe.skipIf(noPseudoTerminal !== null)(`on a pseudo-terminal ${noPseudoTerminal ?? ''}`, () => {
  let folder = '';
  let path = '';
  let cable: PseudoTerminal;
  let hands: BenchHands;
  let sleeve: ReturnType<typeof createBenchSleeve>;
  let sentSec = 0;

  beforeEach(async () => {
    folder = temporaryFolder();
    path = join(folder, 'sleeve');
    cable = await openPseudoTerminal(path);
    hands = new BenchHands(benchFor(31));
    hands.hold([0, 0, 1], {});
    sleeve = createBenchSleeve(hands);
    sentSec = 0;
    cable.onBytes((bytes) => {
      sleeve.receive(bytes);
      cable.send(sleeve.advance(sentSec));
    });
  });
  afterEach(() => cable.pull());

  /** The next four seconds of the sleeve, at once. */
  const sendOn = (): void => {
    sentSec += 4;
    cable.send(sleeve.advance(sentSec));
  };

  it('takes a walk’s holds over the port', async () => {
    const port = await serialHolds(path);
    expect(port.sleeveNumber).toBe(4711);
    let walk: WalkState = begun(31, { placements: 2, stacks: ['A'], bottle: 'two-minutes' });
    const said: string[] = [];
    const source: HoldSource = {
      ...port,
      take(step, now) {
        hands.obey(step, now);
        const hold = port.take(step, now);
        sendOn();
        return hold;
      },
    };
    const keep = (next: WalkState): void => {
      walk = next;
    };
    await walkThrough({
      walk,
      source,
      talk: { say: (text) => said.push(text), ask: async () => '' },
      keep,
    });
    await source.close();
    expect(nextStep(walk)).toBeNull();
    expect(said.filter((text) => text.startsWith('!'))).toEqual([]);
    expect(Object.keys(walk.holds)).toHaveLength(stepsOf(walk).length);
  });

  describe('as a command', () => {
    beforeAll(requireBuild);

    it('greets the sleeve, takes a step, keeps it when the person leaves', async () => {
      const out = join(folder, 'mine.json');
      const running = startCommand(['sleeve', 'calibrate', '--port', path, '--out', out], {
        data: folder,
        typing: true,
      });
      await running.says(/\[1\/\d+\] empty-upright[\s\S]*Enter when it is still/);
      running.type('\n');
      // The stream goes on until the step is taken, as a sleeve's does.
      const taken = running.says(/taken; not enough yet/);
      let there = false;
      void taken.then(() => {
        there = true;
      });
      const pour = (): void => {
        if (there) return;
        sendOn();
        setTimeout(pour, 50);
      };
      pour();
      await taken;
      await running.says(/\[2\/\d+\] empty-level/);
      running.type('q\n');
      const { code, stdout } = await running.ended;
      expect(code).toBe(0);
      expect(stdout).toMatch(/Stopped\. Run the same command to go on/);
      expect(existsSync(`${out}.walk`)).toBe(true);
    });
  });
});
