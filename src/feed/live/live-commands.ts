/** Commands from the page to the live feed. */
import { discardFeed, endFeed } from '../recording/ending.ts';
import { addBurpByPage, addHostEvent, showWithheld } from '../recording/host-events.ts';
import { handOver, setUp } from '../recording/setup.ts';
import type { LiveFeedOptions } from './live.ts';
import { labelMs } from './live-clock.ts';
import type { LiveState } from './live-state.ts';
import type { LiveCommand } from './live-view.ts';
import { isFresh } from './show-now.ts';

/** Cues that were turned off come back after this long (own choice), or at the end of the feed. */

const GUIDANCE_OFF_MS = 10 * 60000;
export function takeCommand(
  state: LiveState,
  command: LiveCommand,
  options: LiveFeedOptions,
  nowMs: number,
): void {
  const { recorder } = state;
  switch (command.kind) {
    case 'mute':
      state.muted = command.on;
      if (command.on) options.outputs.sound(null);
      options.keepSoundOn?.(!command.on);
      break;
    case 'dim':
      state.dimmed = command.on;
      options.keepDimmed?.(command.on);
      break;
    case 'guidance-off':
      if (command.on === (state.guidanceOffAtMs !== null)) break;
      state.guidanceOffAtMs = command.on ? nowMs : null;
      addHostEvent(recorder, command.on ? 'guidance-paused' : 'guidance-on');
      if (command.on) options.outputs.sound(null);
      // Before the next cue: the sleeve accepts none while its last heartbeat said that nobody guides.
      beat(state, options);
      break;
    case 'show-cues':
      showWithheld(recorder);
      break;
    case 'burped':
      addBurpByPage(recorder);
      break;
    case 'end-feed':
      endFeed(recorder, 'page', labelMs(state, options, nowMs));
      break;
    case 'discard-feed':
      discardFeed(recorder);
      break;
    case 'setup':
      setUp(recorder, command.setup, labelMs(state, options, nowMs));
      break;
    case 'hand-over':
      handOver(recorder, command.caregiver, labelMs(state, options, nowMs));
      break;
    case 'which-sleeve':
      state.askedWhichAtMs = nowMs;
      break;
  }
}
/** Cues that were turned off come back without anybody's help. */
export function endGuidanceOff(
  state: LiveState,
  feedIsOver: boolean,
  options: LiveFeedOptions,
  nowMs: number,
): void {
  const { guidanceOffAtMs } = state;
  if (guidanceOffAtMs === null || (!feedIsOver && nowMs - guidanceOffAtMs < GUIDANCE_OFF_MS)) return;
  state.guidanceOffAtMs = null;
  addHostEvent(state.recorder, 'guidance-on');
  beat(state, options);
}
export function beat(state: LiveState, { outputs }: LiveFeedOptions): void {
  outputs.heartbeat(state.guidanceOffAtMs === null && isFresh(state));
}
