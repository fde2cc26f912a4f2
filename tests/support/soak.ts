/**
 * Feeds one after another on the live code, with the real store on a real folder, and the resources used after each. In virtual time, or by
 * the real clock at speed: with the scheduler, timers and link of `ebbline start --speed`.
 */
import * as fs from 'node:fs';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import type { SchedulerLike } from 'rxjs';
import { createSimulatedLink } from '../../firmware-bridge/links/simulated-link.ts';
import { createLiveFeed } from '../../src/feed/live/live.ts';
import { openStore } from '../../src/store/open-store.ts';
import { createScriptedSleeve } from './scripted-sleeve.ts';

setFlagsFromString('--expose_gc');
const collect = runInNewContext('gc') as () => void;

export interface Used {
  /** Of heap and buffers, after garbage collection. */
  bytes: number;
  handles: number;
  /** Pending timers of the virtual clock. */
  waiting: number;
}

export interface SoakOptions {
  folder: string;
  hours: number;
  feedMin: number;
  samplesPerSec: number;
  /** Device seconds in a second of the clock. */
  speed: number;
  /** The real clock unless given. */
  scheduler?: SchedulerLike;
  waiting?: () => number;
  /** Advances device time. */
  pass: (deviceSec: number, reachedSec: () => number) => Promise<void>;
  /** Called after each feed. */
  onFeed?: (used: Used, feeds: number) => void;
}

/** @returns resources used after each feed, and the number of feeds in the store */
export async function soak(options: SoakOptions): Promise<{ seen: Used[]; kept: number; deviceSec: number }> {
  const sleeve = createScriptedSleeve();
  sleeve.samplesPerSec = options.samplesPerSec;
  let reachedSec = 0;
  const reached = (): number => reachedSec;
  const model = {
    advance(untilSec: number): Uint8Array {
      reachedSec = untilSec;
      return sleeve.advance(untilSec);
    },
    receive: () => {},
  };
  const store = openStore(options.folder, { recording: true, packsLater: true });
  const link = createSimulatedLink(model, { speed: options.speed }, options.scheduler);
  let feeds = 0;
  const live = createLiveFeed(
    {
      link,
      calibration: sleeve.calibration,
      storage: store,
      outputs: { setLight: () => {}, sound: () => {}, heartbeat: () => {} },
      newFeedId: () => `feed-${++feeds}`,
      wallNowMs: () => Date.UTC(2026, 0, 5) + reachedSec * 1000,
      simulated: true,
      sleeveId: 'bench-1',
      refinesLater: true,
    },
    ...(options.scheduler ? [options.scheduler] : []),
  );
  await link.open();
  const rounds = Math.round((options.hours * 60) / options.feedMin);
  const seen: Used[] = [];
  for (let round = 0; round < rounds; round++) {
    sleeve.milkMl = 90;
    sleeve.mouth = 'out';
    await options.pass(10, reached);
    sleeve.mouth = 'sucking';
    await options.pass(options.feedMin * 60 - 10, reached);
    live.command({ kind: 'end-feed' });
    seen.push(used(options.waiting?.() ?? 0));
    options.onFeed?.(seen.at(-1)!, feeds);
  }
  live.stop();
  await link.close();
  const kept = store.list().length;
  store.close();
  return { seen, kept, deviceSec: reachedSec };
}

function used(waiting: number): Used {
  collect();
  const { heapUsed, arrayBuffers } = process.memoryUsage();
  const handles = process.platform === 'linux' ? fs.readdirSync('/proc/self/fd').length : 0;
  return { bytes: heapUsed + arrayBuffers, handles, waiting };
}
