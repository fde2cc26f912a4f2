/** A simulated sleeve on a maker's table, and the maker: runs steps of the bring-up checklist in virtual time. */
import { firstValueFrom, timer } from 'rxjs';
import { createSleeveBoard } from '../../firmware-bridge/board.ts';
import { createSimulatedLink, type SleeveModel } from '../../firmware-bridge/links/simulated-link.ts';
import { sleeveAnswers } from '../../firmware-bridge/wire/index.ts';
import { CHECKLIST, type CheckStep } from '../../hardware/bring-up/checklist.ts';
import { checkedSleeve } from '../../src/app/sleeve/checked-sleeve.ts';
import { type StepOutcome, walkChecklist } from '../../src/app/sleeve/checklist-walk.ts';
import { newtonsFromGrams } from '../../src/base/units.ts';
import { parseCalibration } from '../../src/sensing/index.ts';
import { shellLoads, type Touch } from '../../src/simulation/balance.ts';
import { DEFAULT_PARAMETERS } from '../../src/simulation/defaults.ts';
import { type FeedParameters, withOverrides } from '../../src/simulation/parameters.ts';
import { SleeveSensors } from '../../src/simulation/sleeve-sensors.ts';
import { createFakeSleeve } from './fake-sleeve.ts';
import { createVirtualClock, type VirtualClock } from './virtual-clock.ts';
import { sampleOf } from './wire.ts';

type Triple = [number, number, number];

/** Defects of the sleeve. */
export interface Flaws {
  sensors?: Partial<FeedParameters['sensors']>;
  /** A press with more than this force hits a stop, which takes nine tenths of the excess, N. */
  stopTouchesN?: number;
  seed?: number;
  calibrated?: boolean;
}
/** What the maker does wrong. */
export interface Mistakes {
  /** Keeps still when asked to move. */
  still?: boolean;
  /** Skips what takes minutes. */
  hurried?: boolean;
  waterDegC?: number;
  /** When the mass is put on, seconds after Enter. */
  massOnAtSec?: number;
}

interface Scene {
  felt: (sec: number) => Triple;
  grams: (sec: number) => number;
  touches: readonly Touch[];
}
const UPRIGHT: Triple = [0, 0, 1];
const LEVEL: Triple = [1, 0, 0];
const STAND_MS = 600_000;
const CUP_GRAMS = 57;
const BOTTLE_GRAMS = 138;
const PRESS_AT_Z_MM = { axial: 0, front: 95, rear: 21.5 } as const;

class Table {
  #scene: Scene = { felt: () => UPRIGHT, grams: () => CUP_GRAMS + BOTTLE_GRAMS, touches: [] };
  #sinceSec = 0;
  #atSec = 0;
  readonly model: SleeveModel;

  constructor(readonly sensors: SleeveSensors) {
    const chip = createFakeSleeve();
    chip.samples = false;
    let sent = 0;
    this.model = {
      receive: (bytes) => chip.receive(bytes),
      advance: (untilSec) => {
        for (; (sent + 1) / 80 <= untilSec + 1e-9; sent++) {
          this.#atSec = sent / 80;
          const { cells, accelerometer } = this.#read();
          chip.say(
            sleeveAnswers.sample(
              sampleOf(sent, { cells: cells.counts, accelerometer, flags: sent ? 0 : 0x80 }),
            ),
          );
        }
        return chip.advance(untilSec);
      },
    };
  }

  set(scene: Partial<Scene>): void {
    this.#scene = { ...this.#scene, ...scene };
    this.#sinceSec = this.#atSec;
  }

  #read() {
    const sec = this.#atSec - this.#sinceSec;
    const felt = this.#scene.felt(sec);
    const burden = { emptyMassGrams: this.#scene.grams(sec), emptyCentreZMm: 60, milkMassGrams: 0 };
    const loads = shellLoads({ ...burden, milkXMm: 0, milkZMm: 0 }, felt, this.#scene.touches);
    return this.sensors.read(loads, felt, [0, 0, 0]);
  }
}

/** The maker: does what a step asks before pressing Enter, and answers its questions. */
function makerOf(step: CheckStep, table: Table, { stopTouchesN = Infinity }: Flaws, mistakes: Mistakes) {
  const level = /level/.test(step.doThis);
  const pose = level ? LEVEL : UPRIGHT;
  const press = (grams: number): Touch[] => {
    if (step.kind !== 'stops') return [];
    const all = newtonsFromGrams(grams);
    const forceN = Math.min(all, stopTouchesN) + 0.1 * Math.max(0, all - stopTouchesN);
    const along = step.cell === 'axial';
    const at = { atXMm: 0, atZMm: PRESS_AT_Z_MM[step.cell] };
    return [{ ...at, forceXN: along ? 0 : -forceN, forceZN: along ? -forceN : 0 }];
  };
  const ready = () => {
    table.set({ felt: () => pose, grams: () => CUP_GRAMS + BOTTLE_GRAMS, touches: [] });
    if (step.kind === 'delay' && !mistakes.still)
      table.set({ felt: (sec) => [1 + 0.3 * Math.sin(2 * Math.PI * 1.6 * sec), 0, 0] });
    if (step.kind === 'creep')
      table.set({
        grams: (sec) => CUP_GRAMS + (sec < (mistakes.massOnAtSec ?? 12) ? 0 : step.massGrams),
      });
  };
  return (question: string): string => {
    if (/Press Enter when ready/.test(question)) {
      if (mistakes.hurried && /takes \d+ minutes/.test(question)) return 's';
      ready();
      return '';
    }
    if (/do this step again/.test(question)) return 'n';
    if (/How warm is the water/.test(question)) return String(mistakes.waterDegC ?? 37);
    if (/And the room/.test(question)) return '20';
    const [, grams] = /about (\d+) g/.exec(question) ?? [];
    if (grams === undefined) throw new Error(`nobody expected: ${question}`);
    // Not quite as asked; the answer is what the scale shows.
    const pressed = Number(grams) + 7;
    table.set({ touches: press(pressed) });
    return String(pressed);
  };
}

/** Advances in steps of half a second: nothing here needs promises within a second, and ten minutes are many. */
async function passHalfSecond({ scheduler }: VirtualClock): Promise<void> {
  scheduler.maxFrames = scheduler.frame + 500;
  scheduler.flush();
  scheduler.frame = scheduler.maxFrames;
  await new Promise(setImmediate);
}

/** @returns outcome of each step, and all output */
export async function broughtUp(
  ids: readonly string[],
  flaws: Flaws = {},
  mistakes: Mistakes = {},
): Promise<{ steps: CheckStep[]; outcomes: StepOutcome[]; said: string }> {
  // It has been on for half an hour, so only a warm bottle warms it.
  const sensors = { warmingGrams: 0, accelerometerDriftMg: [0, 0, 0] as const, ...flaws.sensors };
  const parameters = withOverrides(DEFAULT_PARAMETERS, { sensors } as never);
  const table = new Table(new SleeveSensors(parameters, flaws.seed ?? 5, 1 / 80));
  const clock = createVirtualClock();
  const link = createSimulatedLink(table.model, {}, clock.scheduler);
  const board = createSleeveBoard(link, {}, clock.scheduler);
  await link.open();
  await clock.advance(1000);
  const calibration = parseCalibration(table.sensors.calibration, 'of the test');
  const sleeve = checkedSleeve(link, board, flaws.calibrated === false ? null : calibration, clock.scheduler);
  const said: string[] = [];
  const steps = ids.map((id) => CHECKLIST.find((step) => step.id === id)!);
  let maker = makerOf(steps[0]!, table, flaws, mistakes);
  let at = 0;
  let done = false;
  const walk = walkChecklist(steps, sleeve, {
    say: (text) => {
      said.push(text);
      const number = /^\nStep (\d+) of/.exec(text)?.[1];
      if (number === undefined) return;
      at = Number(number) - 1;
      maker = makerOf(steps[at]!, table, flaws, mistakes);
    },
    ask: async (question) => {
      // Leaves it alone when told to; a sleeve that nobody has touched yet is at rest already.
      if (
        /Press Enter when ready/.test(question) &&
        at > 0 &&
        !mistakes.hurried &&
        /untouched/.test(steps[at]!.doThis)
      ) {
        table.set({ felt: () => UPRIGHT, grams: () => CUP_GRAMS + BOTTLE_GRAMS, touches: [] });
        await firstValueFrom(timer(STAND_MS, clock.scheduler));
      }
      return maker(question);
    },
  }).finally(() => {
    done = true;
  });
  walk.catch(() => {});
  while (!done) await passHalfSecond(clock);
  const outcomes = await walk;
  // Link and heartbeats are not closed here: each of their virtual moments refers to the one before, a chain too long to close.
  return { steps, outcomes, said: said.join('\n') };
}

export const numbersOf = (outcome: StepOutcome): (number | null)[] =>
  'readings' in outcome ? outcome.readings.map(({ value }) => value) : [];
export const failedOf = (outcomes: readonly StepOutcome[]) =>
  outcomes.filter(({ passed }) => passed === false).map(({ id }) => id);
/** Names of a step's numbers that are out of range. */
export const outOf = (outcome: StepOutcome): string[] =>
  'readings' in outcome ? outcome.readings.filter((r) => !r.passed).map(({ limit }) => limit.what) : [];

export async function oneStep(id: string, flaws: Flaws = {}, mistakes: Mistakes = {}) {
  const { outcomes } = await broughtUp([id], flaws, mistakes);
  return outcomes[0]!;
}
