/** Computes what the caregiver sees and hears from the state of the live feed. */
import { isHeard, mayBeOld } from './hearing.ts';
import { keepWhatIsTold } from './keep-told.ts';
import { type Light, lightFor, whichSleeveLight } from './light-language.ts';
import type { LiveFeedOptions } from './live.ts';
import type { LiveState } from './live-state.ts';
import { stepShowing } from './showing.ts';
import { stepSounding } from './sounding.ts';

export const isFresh = ({ link, hearing }: LiveState): boolean => link.kind === 'open' && isHeard(hearing);

/** A cue has priority over the answer to "which sleeve is this?". */
function lightNow({ show, dimmed, askedWhichAtMs }: LiveState, nowMs: number): Light {
  const asked = show.showing === 'waiting' ? whichSleeveLight((nowMs - askedWhichAtMs) / 1000) : null;
  return asked ?? lightFor(show.showing, dimmed, (nowMs - show.sinceMs) / 1000);
}

/** Drives light and sound. `state` is changed in place. */
export function showNow(
  state: LiveState,
  { outputs, isPageOpen = () => false }: Pick<LiveFeedOptions, 'outputs' | 'isPageOpen'>,
  nowMs: number,
): void {
  if (mayBeOld(state.hearing) && isFresh(state)) return;
  const { recorder } = state;
  const tick = recorder.feed ? recorder.lastTick : null;
  const before = state.show.showing;
  state.show = stepShowing(state.show, {
    nowMs,
    fresh: isFresh(state),
    isOver: state.link.kind === 'ended' && recorder.feed === null && recorder.lastFeed !== null,
    feedOpen: recorder.feed !== null,
    guidanceOff: state.guidanceOffAtMs !== null,
    withheld: recorder.feed?.withheld ?? false,
    cue: tick?.showing ?? null,
    heldSteeply: tick?.heldSteeply ?? false,
    invalid: tick !== null && tick.moment.quality === 'invalid',
  });
  const { showing } = state.show;
  state.sounding = stepSounding(state.sounding, {
    nowMs,
    showing,
    began: showing !== before,
    muted: state.muted,
  });
  if (state.sounding.notes) outputs.sound(state.sounding.notes);
  keepWhatIsTold(state, isPageOpen(), nowMs);
  const light = lightNow(state, nowMs);
  const last = state.light;
  if (!last || light.red !== last.red || light.green !== last.green || light.blue !== last.blue) {
    outputs.setLight(light);
    state.light = light;
  }
}
