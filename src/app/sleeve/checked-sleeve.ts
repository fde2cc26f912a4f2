/** The sleeve under test for the checklist: light and buzzer by its board, samples by its link. */
import { firstValueFrom, interval, type SchedulerLike, timer } from 'rxjs';
import type { SleeveBoard } from '../../../firmware-bridge/board.ts';
import type { SleeveLink } from '../../../firmware-bridge/links/link.ts';
import { monotonic } from '../../../firmware-bridge/links/monotonic.ts';
import type { Calibration } from '../../sensing/index.ts';
import type { CheckedSleeve } from './checklist-walk.ts';
import { listenTo } from './listened-sleeve.ts';

const HEARTBEAT_MS = 500;
/** One beep, soft as a cue's. */
const BEEP = { frequencyHz: 440, onMs: 400, offMs: 0, repeats: 1 } as const;

/** Sends heartbeats until it is closed, so that the sleeve shows the light it is set to. */
export function checkedSleeve(
  link: SleeveLink,
  board: SleeveBoard,
  calibration: Calibration | null,
  scheduler: SchedulerLike = monotonic,
): CheckedSleeve & { close(): void } {
  board.heartbeat(true);
  const beats = interval(HEARTBEAT_MS, scheduler).subscribe(() => board.heartbeat(true));
  return {
    ...listenTo(link, calibration, scheduler),
    showLight: (color) => board.setLight(color),
    playTone: () => board.sound(BEEP),
    wait: async (seconds) => {
      await firstValueFrom(timer(seconds * 1000, scheduler));
    },
    close() {
      board.setLight({ red: 0, green: 0, blue: 0 });
      beats.unsubscribe();
    },
  };
}
