/** A live feed on a simulated link in virtual time; everything it outputs is recorded. */
import {
  createSimulatedLink,
  type SimulatedLink,
  type SleeveModel,
} from '../../firmware-bridge/links/simulated-link.ts';
import type { Light, Notes } from '../../src/feed/live/light-language.ts';
import { createLiveFeed, type LiveFeed, type LiveOutputs } from '../../src/feed/live/live.ts';
import type { LiveView, Showing } from '../../src/feed/live/live-view.ts';
import type { FeedSetup } from '../../src/feed/record/feed.ts';
import type { FeedStorage } from '../../src/feed/record/feed-storage.ts';
import type { Guided } from '../../src/feed/recording/guided.ts';
import type { PaceProfile } from '../../src/pacing/profile/profile.ts';
import type { Calibration } from '../../src/sensing/index.ts';
import { MemoryStorage } from './memory-storage.ts';
import { createVirtualClock, type VirtualClock } from './virtual-clock.ts';

/** Wall time at which virtual time begins: an invented morning. */
export const RUN_STARTS_MS = Date.UTC(2026, 0, 5, 9, 0, 0);

export interface Said {
  light: { atMs: number; light: Light }[];
  sound: { atMs: number; notes: Notes | null }[];
  heartbeat: { atMs: number; on: boolean }[];
}

export interface LiveRun {
  clock: VirtualClock;
  link: SimulatedLink;
  live: LiveFeed;
  said: Said;
  views: { atMs: number; view: LiveView }[];
  readonly view: LiveView;
  /** Advances virtual time. */
  run(seconds: number): Promise<void>;
  /** Advances until a condition holds; fails after `atMostSec`. */
  until(isSo: (view: LiveView) => boolean, atMostSec?: number): Promise<void>;
}

export interface LiveRunOptions<K extends FeedStorage> {
  calibration: Calibration;
  storage?: (clock: VirtualClock) => K;
  /** Outputs to pass everything on to, in addition to recording it. */
  outputs?: LiveOutputs | ((link: SimulatedLink, clock: VirtualClock) => LiveOutputs);
  profile?: PaceProfile;
  guide?: (setup: FeedSetup) => Guided;
  mostHeldBytes?: number;
  /** On in tests, except those about it. */
  soundOn?: boolean;
  keepSoundOn?: (on: boolean) => void;
  dimmed?: boolean;
  keepDimmed?: (dimmed: boolean) => void;
  speed?: number;
  clock?: VirtualClock;
  /** Time of the wall clock, ms; correct by default. */
  wallNowMs?: (clock: VirtualClock) => number;
  /** Wraps the link, to simulate faults on the line. */
  wrap?: (link: SimulatedLink, clock: VirtualClock) => SimulatedLink;
}

export async function liveRun<K extends FeedStorage = MemoryStorage>(
  model: SleeveModel,
  options: LiveRunOptions<K>,
): Promise<LiveRun & { storage: K }> {
  const { calibration, profile, speed = 1, clock = createVirtualClock(), wrap = (link) => link } = options;
  const storage = (options.storage?.(clock) ?? new MemoryStorage(() => clock.nowMs)) as K;
  const link = wrap(createSimulatedLink(model, { speed }, clock.scheduler), clock);
  const outputs = typeof options.outputs === 'function' ? options.outputs(link, clock) : options.outputs;
  const said: Said = { light: [], sound: [], heartbeat: [] };
  const views: LiveRun['views'] = [];
  let feeds = 0;
  const live = createLiveFeed(
    {
      link,
      calibration,
      storage,
      outputs: {
        setLight(light) {
          said.light.push({ atMs: clock.nowMs, light });
          outputs?.setLight(light);
        },
        sound(notes) {
          said.sound.push({ atMs: clock.nowMs, notes });
          outputs?.sound(notes);
        },
        heartbeat(on) {
          said.heartbeat.push({ atMs: clock.nowMs, on });
          outputs?.heartbeat(on);
        },
      },
      newFeedId: () => `feed-${++feeds}`,
      wallNowMs: () => options.wallNowMs?.(clock) ?? RUN_STARTS_MS + clock.nowMs,
      simulated: true,
      sleeveId: 'bench-1',
      ...(profile && { profile }),
      ...(options.guide && { guide: options.guide }),
      ...(options.mostHeldBytes && { mostHeldBytes: options.mostHeldBytes }),
      soundOn: options.soundOn ?? true,
      ...(options.dimmed && { dimmed: true }),
      ...(options.keepDimmed && { keepDimmed: options.keepDimmed }),
      ...(options.keepSoundOn && { keepSoundOn: options.keepSoundOn }),
    },
    clock.scheduler,
  );
  live.view$.subscribe((view) => views.push({ atMs: clock.nowMs, view }));
  await link.open();
  const run = {
    clock,
    link,
    live,
    said,
    views,
    storage,
    get view() {
      return views.at(-1)!.view;
    },
    run: (seconds: number) => clock.advance(seconds * 1000),
    async until(isSo: (view: LiveView) => boolean, atMostSec = 120) {
      const endMs = clock.nowMs + atMostSec * 1000;
      while (!isSo(run.view)) {
        if (clock.nowMs >= endMs) throw new Error(`not so within ${atMostSec} s; shows ${run.view.showing}`);
        await clock.advance(50);
      }
    },
  };
  return run;
}

/** @returns each thing shown and when it began, seconds */
export function shownFrom({ views }: Pick<LiveRun, 'views'>, fromMs = 0): [number, Showing][] {
  const all: [number, Showing][] = [];
  for (const { atMs, view } of views) {
    if (atMs >= fromMs && all.at(-1)?.[1] !== view.showing) all.push([atMs / 1000, view.showing]);
  }
  return all;
}
