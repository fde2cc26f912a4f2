/** The feed of the small ward as it is at home, and what was kept in the ward held against it. */
import { expect } from 'vitest';
import { createLiveFeed } from '../../../src/feed/live/live.ts';
import {
  type FakeFeed,
  keptBytes,
  keptCues,
  keptEvents,
  keptRows,
  keptTold,
  MemoryStorage,
} from '../memory-storage.ts';
import { handPort, IDENTITY } from '../relayed.ts';
import { createVirtualClock } from '../virtual-clock.ts';
import { bytes, calibration, SECONDS, STARTS_MS, STEP_MS, type smallWard } from './small-ward.ts';

/** What says nothing about the milk. */
const CALM = new Set(['no-guidance', 'cannot-tell', 'waiting']);

export interface AtHome {
  feed: FakeFeed;
  /** What was shown, and since when, seconds of the sleeve's bytes. */
  showing: { atSec: number; showing: string }[];
}

/** In virtual time. */
export async function sameAtHome(): Promise<AtHome> {
  const clock = createVirtualClock();
  const port = handPort();
  const storage = new MemoryStorage(() => clock.nowMs);
  const live = createLiveFeed(
    {
      ...{ link: port, calibration, storage, newFeedId: () => 'at-home', wallNowMs: () => STARTS_MS },
      ...{
        outputs: { setLight() {}, sound() {}, heartbeat() {} },
        simulated: true,
        sleeveId: String(IDENTITY.sleeveNumber),
      },
      refinesLater: true,
    },
    clock.scheduler,
  );
  const showing: AtHome['showing'] = [];
  live.view$.subscribe((view) => {
    if (showing.at(-1)?.showing !== view.showing)
      showing.push({ atSec: clock.nowMs / 1000, showing: view.showing });
  });
  for (let at = 0; at < bytes.length; ) {
    await clock.advance(STEP_MS);
    const end = Math.min(bytes.length, Math.floor((clock.nowMs / 1000 / SECONDS) * bytes.length));
    port.send(bytes.subarray(at, end));
    at = end;
  }
  live.keepRest();
  live.letGo();
  return { feed: storage.only, showing };
}

const ofSleeve = <T extends { kind: string }>(events: readonly T[]): T[] =>
  events.filter(({ kind }) => !/^link|^guidance/.test(kind));

/** Until all is sent and stored: each row, cue and byte once, as at home, and each that was told. */
export async function endAsAtHome(
  ward: ReturnType<typeof smallWard>,
  { feed: home, showing: shownAtHome }: AtHome,
): Promise<void> {
  await ward.until(SECONDS);
  await ward.settle();
  const kept = ward.store.only;
  expect(kept.state).toBe('ended');
  const homeBytes = keptBytes(home);
  const differAt = homeBytes.findIndex((byte, i) => byte !== kept.bytes[i]);
  expect({ length: kept.bytes.length, differAt }).toEqual({ length: homeBytes.length, differAt: -1 });
  expect(kept.rows).toEqual(keptRows(home));
  expect(kept.cues).toEqual(keptCues(home));
  expect(ofSleeve(kept.events)).toEqual(ofSleeve(keptEvents(home)));
  const told = (all: typeof kept.told) => all.map(({ shown, output }) => `${shown} ${output}`);
  expect(told(kept.told)).toEqual(told(keptTold(home)));
  expect(ward.shown.sounds()).toBe(0);
  for (const { atSec, showing } of ward.states().filter((one) => !CALM.has(one.showing))) {
    const isOfNow = ({ atSec: sinceSec }: { atSec: number }, i: number): boolean =>
      sinceSec <= atSec + 0.3 && (shownAtHome[i + 1]?.atSec ?? SECONDS) >= atSec - 1.5;
    const atHome = shownAtHome.filter(isOfNow).map((one) => one.showing);
    expect([atSec, atHome]).toEqual([atSec, expect.arrayContaining([showing])]);
  }
}
