import type { LiveState } from './live-state.ts';
import { stepTelling, TELLING_START } from './telling-of-cues.ts';

/** Whoever looks back sees what a caregiver was told, and by what. */
export function keepWhatIsTold(state: LiveState, isPageOpen: boolean, nowMs: number): void {
  const { feed } = state.recorder;
  if (!feed) {
    state.telling = TELLING_START;
    return;
  }
  state.telling = stepTelling(state.telling, {
    nowMs,
    atSec: feed.engine.timeline.atMicros / 1e6,
    showing: state.show.showing,
    isPageOpen,
    sounded: state.sounding.notes !== null,
  });
  feed.held.part.told.push(...state.telling.told);
}
