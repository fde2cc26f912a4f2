/**
 * What the page may show now, given the views received and the time since the last one. Pure.
 *
 * Two rules limit what is shown. Silence: after one second without a view the page shows "no guidance", whatever the last
 * view said. Holding: "cannot tell" and "no guidance" stay for at least five seconds, so that an unstable link does not make
 * the page flicker; only the caregiver's own action (cues off, ending) ends them sooner.
 */
import type { LinkCause, LiveView, Showing } from '../../feed/live/live-view.ts';
import type { QualityReason } from '../../sensing/moment.ts';

/** The live feed sends at least two views a second. */
export const SILENCE_MS = 1000;
export const CALM_MS = 5000;

/** What the page shows. `silent`: the page itself found that no views come. */
export interface Shown {
  showing: Showing;
  because: LiveView['because'];
  cause: LinkCause | null;
  qualityReason: QualityReason | null;
  feedState: LiveView['feedState'];
  silent: boolean;
}

export interface Guard {
  /** Latest view, for switches and the setup; its numbers are valid only while `fresh`. */
  view: LiveView | null;
  /** When the latest view came, or else the page was opened; monotonic ms. */
  heardAtMs: number;
  fresh: boolean;
  /** Null in the first second of the page, before any view. */
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

/** One step: a new view, or null when only time has passed. Returns the same object if nothing changed. */
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
  cause: view.cause ?? null,
  qualityReason: view.qualityReason,
  feedState: view.feedState,
  silent: false,
});

const silence = (view: LiveView | null): Shown => ({
  showing: 'no-guidance',
  because: null,
  cause: null,
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
  a.cause === b.cause &&
  a.qualityReason === b.qualityReason &&
  a.feedState === b.feedState &&
  a.silent === b.silent;
