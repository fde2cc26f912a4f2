/** Tells boards what a guided sleeve shows: each change at once, and the same again every few seconds. */
import type { LiveView } from '../../feed/live/live-view.ts';
import { encodeSleeveMessage, type SleeveMessage, STATE_EVERY_SEC } from '../../ward/board/sleeve-message.ts';
import { stateOf } from './sleeve-state.ts';

/** @param nowMs  of a monotonic clock */
export function stateTeller(
  of: Pick<SleeveMessage, 'sleeveNumber' | 'worker' | 'epoch'>,
  publish: (state: Uint8Array) => void,
  nowMs: () => number,
): (view: LiveView) => void {
  let shown = { showing: '', sinceMs: 0 };
  let toldAtMs = Number.NEGATIVE_INFINITY;
  return (view) => {
    const atMs = nowMs();
    const isNew = view.showing !== shown.showing;
    if (isNew) shown = { showing: view.showing, sinceMs: atMs };
    if (!isNew && atMs - toldAtMs < STATE_EVERY_SEC * 1000) return;
    toldAtMs = atMs;
    publish(encodeSleeveMessage(stateOf(view, of, (atMs - shown.sinceMs) / 1000)));
  };
}
