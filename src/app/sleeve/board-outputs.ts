/** A board as the live feed's outputs. */
import type { SleeveBoard } from '../../../firmware-bridge/board.ts';
import type { LiveOutputs } from '../../feed/live/live.ts';

const SILENCE = { frequencyHz: 0, onMs: 0, offMs: 0, repeats: 0 };

export const boardOutputs = (board: SleeveBoard): LiveOutputs => ({
  setLight: (light) => board.setLight(light),
  sound: (notes) => board.sound(notes ?? SILENCE),
  heartbeat: (on) => board.heartbeat(on),
});
