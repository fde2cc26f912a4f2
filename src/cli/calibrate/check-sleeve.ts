/** `ebbline check-sleeve`: the bring-up checklist, live on a built sleeve. */
import { once } from 'node:events';
import { createInterface } from 'node:readline/promises';
import { firstValueFrom } from 'rxjs';
import { createSleeveBoard } from '../../../firmware-bridge/board.ts';
import { hello } from '../../../firmware-bridge/links/hello.ts';
import type { SleeveLink } from '../../../firmware-bridge/links/link.ts';
import { createSerialLink } from '../../../firmware-bridge/links/serial-link.ts';
import {
  createScanner,
  scan,
  stepMotion,
  stepTimeline,
  TIMELINE_START,
  type TimedSample,
  type TimelineStep,
  type WireSink,
} from '../../../firmware-bridge/wire/index.ts';
import { CHECKLIST } from '../../../hardware/checklist.ts';
import { calibrationFrom } from '../../app/sleeve/calibration-file.ts';
import { type CheckedSleeve, type Talk, walkChecklist } from '../../app/sleeve/checklist-walk.ts';
import { PlainError } from '../../base/errors.ts';
import { MILK_DENSITY_GRAMS_PER_ML } from '../../base/units.ts';
import { type Calibration, createSensor, type SensedMoment, senseSample } from '../../sensing/index.ts';

export interface CheckSleeveOptions {
  port: string;
  calibration?: string;
}

const HEARTBEAT_MS = 500;
const WEIGH_SEC = 5;

/** Exit code 1 when a step did not pass. @throws PlainError when no sleeve answers */
export async function checkSleeve(options: CheckSleeveOptions): Promise<void> {
  const calibration = options.calibration === undefined ? null : calibrationFrom(options.calibration);
  const link = createSerialLink(options.port);
  await link.open();
  const heartbeats: NodeJS.Timeout[] = [];
  const lines = createInterface({ input: process.stdin, output: process.stdout });
  const nobody = once(lines, 'close').then((): never => {
    throw new PlainError(
      'nobody-answers',
      'The check asks questions, and the input has ended.',
      'Run it in a terminal, and again from the start.',
    );
  });
  nobody.catch(() => {});
  try {
    const { sleeveNumber, firmwareVersion } = await firstValueFrom(hello(link));
    const board = createSleeveBoard(link);
    heartbeats.push(setInterval(() => board.heartbeat(true), HEARTBEAT_MS));
    const talk: Talk = {
      say: (text) => process.stdout.write(`${text}\n`),
      ask: async (question) => (await Promise.race([lines.question(question), nobody])).trim(),
    };
    talk.say(
      `Sleeve ${sleeveNumber}, firmware ${firmwareVersion.join('.')}. No baby, no milk: water and hands only.`,
    );
    const sleeve: CheckedSleeve = {
      ...listenTo(link, calibration),
      showLight: (on) =>
        board.setLight(on ? { red: 200, green: 200, blue: 200 } : { red: 0, green: 0, blue: 0 }),
      playTone: () => board.sound({ frequencyHz: 440, onMs: 200, offMs: 200, repeats: 3 }),
    };
    const outcomes = await walkChecklist(CHECKLIST, sleeve, talk);
    board.setLight({ red: 0, green: 0, blue: 0 });
    board.close();
    if (outcomes.some(({ passed }) => passed === false)) process.exitCode = 1;
  } finally {
    for (const timer of heartbeats) clearInterval(timer);
    lines.close();
    await link.close();
  }
}

/** Samples and weighings from a link; a sensor goes along with every sample where there is a calibration. */
export function listenTo(
  link: SleeveLink,
  calibration: Calibration | null,
): Pick<CheckedSleeve, 'collect' | 'weighGrams' | 'calibrated'> {
  let timeline = TIMELINE_START;
  const scanner = createScanner();
  const sensor = calibration && createSensor(calibration, { refinable: false });
  const listeners = new Set<(sample: TimedSample, moment: SensedMoment | null) => void>();
  const take = (step: TimelineStep): void => {
    timeline = step.timeline;
    if (!step.timed) return;
    const moment = sensor ? senseSample(sensor, step.timed) : null;
    for (const listener of listeners) listener(step.timed, moment);
  };
  const sink: WireSink = {
    sample: (sample) => take(stepTimeline(timeline, sample)),
    motion: (motion) => take(stepMotion(timeline, motion)),
  };
  link.bytes$.subscribe((bytes) => scan(scanner, bytes, sink));

  /** Listens for so long by the device's own clock; a sleeve that falls silent is given twice that by the host's. */
  const listen = (seconds: number, take: (sample: TimedSample, moment: SensedMoment | null) => void) =>
    new Promise<void>((resolve) => {
      let firstSec: number | null = null;
      const done = () => {
        clearTimeout(limit);
        listeners.delete(listener);
        resolve();
      };
      const limit = setTimeout(done, (2 * seconds + 2) * 1000);
      const listener = (sample: TimedSample, moment: SensedMoment | null) => {
        firstSec ??= sample.atSec;
        take(sample, moment);
        if (sample.atSec - firstSec >= seconds) done();
      };
      listeners.add(listener);
    });

  return {
    calibrated: sensor !== null,
    async collect(seconds) {
      const samples: TimedSample[] = [];
      await listen(seconds, (sample) => samples.push(sample));
      return samples;
    },
    async weighGrams() {
      const milk: number[] = [];
      await listen(WEIGH_SEC, (_, moment) => {
        if (moment?.milkMl != null && !moment.teatInMouth) milk.push(moment.milkMl);
      });
      if (milk.length < 20) return null;
      return (milk.reduce((sum, ml) => sum + ml, 0) / milk.length) * MILK_DENSITY_GRAMS_PER_ML;
    },
  };
}
