/** A whole simulated feed past the check: what it teaches about a bottle whose inside was drawn wrong, kept for the next start. */
import { BehaviorSubject, Subject } from 'rxjs';
import { describe, expect, it } from 'vitest';
import { encodeMessage, MESSAGES } from '../../firmware-bridge/wire/index.ts';
import { checkedFeeds, keptHistory } from '../../src/app/sleeve/checked-feeds.ts';
import { beliefOf } from '../../src/calibration/fit/learned.ts';
import { changedProfile } from '../../src/calibration/walk/profile.ts';
import type { LiveView } from '../../src/feed/live/live-view.ts';
import { type Calibration, parseCalibration } from '../../src/sensing/index.ts';
import { createSimulatedFeed } from '../../src/simulation/simulated-feed.ts';
import { viewOf } from '../support/fake-live.ts';

const NOW_MS = Date.UTC(2026, 0, 9, 10);
/** The base end is where it is; whoever drew it put it higher, and knew it to a few millimeters. */
const MISDRAWN_MM = 1.2;

function historyAfterFeed(misdrawnMm: number, learns: boolean) {
  const feed = createSimulatedFeed({ scenario: 'paced', seed: 1 });
  const truth = parseCalibration(feed.exactCalibration, 'exact');
  const calibration: Calibration = {
    ...truth,
    bottle: {
      ...truth.bottle,
      innerProfileMm: changedProfile(truth.bottle.innerProfileMm, {
        baseShiftMm: misdrawnMm,
        neckShiftMm: 0,
        widerShare: 0,
      }),
    },
    uncertainty: { baseEndMm: 3, neckEndMm: 1 },
  };
  let kept: unknown = null;
  const store = {
    readCalibrationHistories: () => kept,
    writeCalibrationHistories: (history: unknown) => {
      kept = history;
    },
  };
  const bytes$ = new Subject<Uint8Array>();
  const view$ = new BehaviorSubject<LiveView>(viewOf({ feedState: 'none', teatInMouth: false }));
  const history = keptHistory(store, '4711', calibration);
  const live = { view$, command: () => {}, stop: () => {}, changeSleeve: () => {}, keepRest: () => true };
  checkedFeeds(live, { link: { bytes$ }, calibration, history, learns, wallNowMs: () => NOW_MS });
  let onMouth = false;
  while (!feed.done) {
    const { sample, truth: now } = feed.step();
    if (now.onMouth !== onMouth) {
      onMouth = now.onMouth;
      view$.next(viewOf({ feedState: 'open', teatInMouth: onMouth }));
    }
    if (sample) bytes$.next(encodeMessage(MESSAGES.SAMPLE, sample));
  }
  view$.next(viewOf({ feedState: 'ended', teatInMouth: false }));
  return { history: history.read(), calibration };
}

describe('a feed', () => {
  it('narrows where the base end is, towards where it is, beside the calibration', () => {
    const { history, calibration } = historyAfterFeed(MISDRAWN_MM, true);
    const [before, after] = [beliefOf(calibration), history.belief!];
    expect(after.baseVariance).toBeLessThan(0.8 * before.baseVariance);
    const learnedMm =
      after.baseMm + history.corrections.reduce((sum, { change }) => sum + change.baseShiftMm, 0);
    expect(learnedMm).toBeLessThan(-0.2);
    expect(history.checks).toHaveLength(2);
  });

  it('teaches nothing about a bottle drawn right, nor in practice', () => {
    expect(historyAfterFeed(0, true).history.corrections).toEqual([]);
    const practice = historyAfterFeed(MISDRAWN_MM, false).history;
    expect(practice.belief).toBeNull();
    expect(practice.checks.at(-1)).toMatchObject({ feedId: 'feed-1' });
  });
});
