import type { LiveState } from './live-state.ts';
import { stepTelling, TELLING_START } from './telling-of-cues.ts';

/** Records which cues a caregiver was shown and by which output, for the review of the feed. */
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
  feed.told.push(...state.telling.told);
}
