/**
 * What the page may say now, given the views that came and the time since the last one. Pure.
 *
 * Two rules stand between the stream and the eye. Silence: one second without a view, and the page itself says
 * "no guidance", whatever was last heard. Calm: "cannot tell" and "no guidance" stay for five seconds once they
 * are up, so that a shaky link does not flicker; only the caregiver's own doing (pausing, ending) ends them sooner.
 */
import type { LiveView, Showing } from '../../feed/live/live-view.ts';
import type { QualityReason } from '../../sensing/moment.ts';

/** The live feed sends at least two views a second. */
export const SILENCE_MS = 1000;
export const CALM_MS = 5000;

/** What is on the page. `silent`: the page itself found that nobody speaks to it. */
export interface Shown {
  showing: Showing;
  because: LiveView['because'];
  trouble: NonNullable<LiveView['trouble']> | null;
  qualityReason: QualityReason | null;
  feedState: LiveView['feedState'];
  silent: boolean;
}

export interface Guard {
  /** Latest view, for switches and the setup; its numbers only count while `fresh`. */
  view: LiveView | null;
  /** When the latest view came, or the page was opened; monotonic ms. */
  heardAtMs: number;
  fresh: boolean;
  /** Null in the first second of the page, before anything was heard. */
  shown: Shown | null;
  shownSinceMs: number;
}

export const openGuard = (nowMs: number): Guard => ({
  view: null,
  heardAtMs: nowMs,
  fresh: false,
  shown: null,
  shownSinceMs: nowMs,
});

/** One step: a view that has just come, or null when only time went by. Returns the same object when nothing changed. */
export function guardStep(guard: Guard, view: LiveView | null, nowMs: number): Guard {
  const heard = view ? { ...guard, view, heardAtMs: nowMs } : guard;
  const fresh = heard.view !== null && nowMs - heard.heardAtMs < SILENCE_MS;
  const silent = nowMs - heard.heardAtMs >= SILENCE_MS;
  const wanted = silent ? silence(heard.view) : heard.view && said(heard.view);
  const current = heard.shown;
  if (wanted === null || (current && (same(current, wanted) || mustStay(current, wanted, heard, nowMs)))) {
    return fresh === heard.fresh ? heard : { ...heard, fresh };
  }
  const changed = current?.showing !== wanted.showing;
  return { ...heard, fresh, shown: wanted, shownSinceMs: changed ? nowMs : heard.shownSinceMs };
}

const said = (view: LiveView): Shown => ({
  showing: view.showing,
  because: view.because,
  trouble: view.trouble ?? null,
  qualityReason: view.qualityReason,
  feedState: view.feedState,
  silent: false,
});

const silence = (view: LiveView | null): Shown => ({
  showing: 'no-guidance',
  because: null,
  trouble: null,
  qualityReason: null,
  feedState: view?.feedState ?? 'none',
  silent: true,
});

const isCalm = (showing: Showing): boolean => showing === 'cannot-tell' || showing === 'no-guidance';

function mustStay(current: Shown, wanted: Shown, guard: Guard, nowMs: number): boolean {
  if (!isCalm(current.showing) || wanted.showing === current.showing) return false;
  const ownDoing = wanted.showing === 'guidance-off' || wanted.feedState !== current.feedState;
  return !ownDoing && nowMs - guard.shownSinceMs < CALM_MS;
}

const same = (a: Shown, b: Shown): boolean =>
  a.showing === b.showing &&
  JSON.stringify(a.because) === JSON.stringify(b.because) &&
  a.qualityReason === b.qualityReason &&
  a.trouble === b.trouble &&
  a.feedState === b.feedState &&
  a.silent === b.silent;
