/** Clocks that are set, and a host that is busy: they move labels and views, never what is measured, kept or ended. */
import { filter, Subject } from 'rxjs';
import { describe, expect, it, onTestFinished } from 'vitest';
import { monotonic } from '../../firmware-bridge/links/monotonic.ts';
import {
  hearingFrom,
  hearSample,
  hearTick,
  isHeard,
  keepsUp,
  mayBeOld,
} from '../../src/feed/live/hearing.ts';
import { liveRun, RUN_STARTS_MS } from '../support/live-run.ts';
import { createScriptedSleeve } from '../support/scripted-sleeve.ts';
import type { VirtualClock } from '../support/virtual-clock.ts';

async function latched(wallNowMs: (clock: VirtualClock) => number) {
  const sleeve = createScriptedSleeve();
  const run = await liveRun(sleeve, { calibration: sleeve.calibration, wallNowMs });
  await run.run(8);
  sleeve.mouth = 'sucking';
  await run.until((view) => view.teatInMouth);
  return { ...run, sleeve };
}

describe('a wall clock that jumps', () => {
  it.each([
    ['an hour ahead', 3_600_000],
    ['an hour back', -3_600_000],
    ['back to 1970', -RUN_STARTS_MS],
  ])('set %s in a burp pause splits no feed, and its end lies after its start', async (_how, jumpMs) => {
    let setMs = 0;
    const { run, sleeve, live, storage } = await latched((clock) => RUN_STARTS_MS + setMs + clock.nowMs);
    await run(10);
    sleeve.mouth = 'out';
    await run(5);
    setMs = jumpMs;
    await run(5);
    sleeve.mouth = 'sucking';
    await run(10);
    live.command({ kind: 'end-feed' });
    const { summary, end } = storage.only;
    expect(end!.endReason).toBe('page');
    const lastedMs = end!.endedAtMs - summary.startedAtMs;
    expect(lastedMs).toBeGreaterThan(29_000);
    expect(lastedMs).toBeLessThan(32_000);
  });

  it('is not what intervals and ages go by', () => {
    const real = Date.now;
    onTestFinished(() => {
      Date.now = real;
    });
    const before = monotonic.now();
    Date.now = () => 0;
    expect(monotonic.now()).toBeGreaterThanOrEqual(before);
    expect(monotonic.now() - before).toBeLessThan(60_000);
  });
});

describe('a busy host', () => {
  it('keeps a second of the sleeve’s time as it comes, also when it comes in one piece', async () => {
    const sleeve = createScriptedSleeve();
    const late = new Subject<Uint8Array>();
    let isBusy = false;
    const run = await liveRun(sleeve, {
      calibration: sleeve.calibration,
      wrap: (link) => {
        link.bytes$.pipe(filter(() => !isBusy)).subscribe(late);
        return { ...link, bytes$: late };
      },
    });
    await run.run(8);
    sleeve.mouth = 'sucking';
    await run.until((view) => view.teatInMouth);
    await run.run(3);
    isBusy = true;
    await run.run(0.15);
    const kept = run.storage.only.parts.length;
    // Three seconds of samples at once, between two looks at the time.
    late.next(sleeve.advance(run.clock.nowMs / 1000 + 3));
    expect(run.storage.only.parts.length).toBe(kept + 1);
  });

  it('finds what waits before it doubts the sleeve; one that is always late does not keep up, and says so', () => {
    const fresh = hearSample(hearTick(hearingFrom(0), 100));
    expect(isHeard(fresh)).toBe(true);
    const away = hearTick(fresh, 4100);
    expect([isHeard(away), mayBeOld(away), keepsUp(away)]).toEqual([true, true, true]);
    const back = hearTick(hearSample(away), 4200);
    expect([isHeard(back), mayBeOld(back)]).toEqual([true, false]);
    const again = hearTick(hearSample(away), 8200);
    expect([isHeard(again), keepsUp(again)]).toEqual([false, false]);
  });

  it('that hears nothing for half a second while it is awake has no guidance', () => {
    let hearing = hearSample(hearTick(hearingFrom(0), 100));
    for (let ms = 200; ms <= 600; ms += 100) hearing = hearTick(hearing, ms);
    expect(isHeard(hearing)).toBe(true);
    expect(isHeard(hearTick(hearing, 700))).toBe(false);
  });
});
