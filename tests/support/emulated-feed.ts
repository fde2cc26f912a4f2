/** A simulated feed on the emulated chip, with the whole program above it. */
import { createSleeveBoard, type SleeveBoard } from '../../firmware-bridge/board.ts';
import { EmulatedSleeve, type EmulatedSleeveOptions } from '../../firmware-bridge/links/emulated-sleeve.ts';
import { surroundingsOf } from '../../firmware-bridge/links/emulated-surroundings.ts';
import { parseCalibration } from '../../src/sensing/index.ts';
import type { SimulatedFeed } from '../../src/simulation/simulated-feed.ts';
import { liveRun } from './live-run.ts';

const SILENCE = { frequencyHz: 0, onMs: 0, offMs: 0, repeats: 0 };

/** @param more  options of the emulated sleeve @returns what runs; the board has to be closed */
export async function emulatedFeed(feed: SimulatedFeed, more: Pick<EmulatedSleeveOptions, 'onLook'> = {}) {
  const sleeve = new EmulatedSleeve({ surroundings: surroundingsOf(feed), ...more });
  let board: SleeveBoard | null = null;
  const run = await liveRun(sleeve, {
    calibration: parseCalibration(feed.calibration, 'of the simulated feed'),
    outputs: {
      setLight: (light) => board?.setLight(light),
      sound: (notes) => board?.sound(notes ?? SILENCE),
      heartbeat: (on) => board?.heartbeat(on),
    },
  });
  board = createSleeveBoard(run.link, {}, run.clock.scheduler);
  return { sleeve, run, board };
}
