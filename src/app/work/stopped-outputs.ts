/** Light and sound of a sleeve whose bottle must not be given: replaces the feed's own, as long as a board says so. */
import { interval, type SchedulerLike, type Subscription } from 'rxjs';
import { type Light, SOUND_GAP_SEC, STOP_NOTES, stopLight } from '../../feed/live/light-language.ts';
import type { LiveOutputs } from '../../feed/live/live.ts';

export interface StoppedOutputs extends LiveOutputs {
  close(): void;
}

const LOOK_MS = 100;

/** @param untilMs  end of the stop, by the scheduler; in the past: not stopped */
export function stoppedOutputs(
  outputs: LiveOutputs,
  untilMs: () => number,
  scheduler: SchedulerLike,
): StoppedOutputs {
  let beneath: Light = { red: 0, green: 0, blue: 0 };
  let sinceMs: number | null = null;
  let soundedAtMs = Number.NEGATIVE_INFINITY;
  let shown: Light | null = null;
  const look = (): void => {
    const nowMs = scheduler.now();
    if (nowMs >= untilMs()) {
      if (sinceMs === null) return;
      sinceMs = null;
      shown = null;
      outputs.sound(null);
      outputs.setLight(beneath);
      return;
    }
    sinceMs ??= nowMs;
    const light = stopLight((nowMs - sinceMs) / 1000);
    if (light !== shown) outputs.setLight(light);
    shown = light;
    if (nowMs - soundedAtMs < SOUND_GAP_SEC * 1000) return;
    soundedAtMs = nowMs;
    outputs.sound(STOP_NOTES);
  };
  const looking: Subscription = interval(LOOK_MS, scheduler).subscribe(look);
  return {
    setLight(light) {
      beneath = light;
      if (sinceMs === null) outputs.setLight(light);
    },
    sound(notes) {
      if (sinceMs === null) outputs.sound(notes);
    },
    heartbeat: (guidanceOn) => outputs.heartbeat(guidanceOn),
    close: () => looking.unsubscribe(),
  };
}
