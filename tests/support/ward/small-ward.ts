/** One sleeve at its real relay and any number of real workers, in this process and in virtual time; broker and store are in memory. */
import { join } from 'node:path';
import type { SchedulerLike } from 'rxjs';
import { onTestFinished } from 'vitest';
import { brokerAddress } from '../../../firmware-bridge/links/broker/broker-address.ts';
import { createRelay } from '../../../firmware-bridge/links/broker/relay.ts';
import type { RelayOptions } from '../../../firmware-bridge/links/broker/relay-kind.ts';
import { StoreFront } from '../../../src/app/work/storing/store-front.ts';
import type { FromStore, SleeveBinding, ToStore } from '../../../src/app/work/storing/store-ops.ts';
import { StoreQueue } from '../../../src/app/work/storing/store-queue.ts';
import { Worker } from '../../../src/app/work/worker.ts';
import { historyOf } from '../../../src/calibration/walk/history.ts';
import { parseCalibration } from '../../../src/sensing/index.ts';
import type { SleeveMessage } from '../../../src/ward/board/sleeve-message.ts';
import { EMPTY_SETUP } from '../fake-live.ts';
import { oneAfterAnother } from '../one-after-another.ts';
import { countedId, type HandPort, handPort, IDENTITY, PLACE } from '../relayed.ts';
import { simulateCapture } from '../simulated-capture.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { createVirtualClock } from '../virtual-clock.ts';
import type { MemoryBroker, Which } from './memory-broker.ts';
import { SharedStore } from './memory-store.ts';

const FEED_SEC = 75;
const made = simulateCapture({ scenario: 'hurried-start', seed: 1, longestSec: FEED_SEC });
/** Its button is held at the end; what follows is before the next latch. */
export const bytes = oneAfterAnother([
  made.bytes,
  simulateCapture({ scenario: 'paced', seed: 1, longestSec: 4 }).bytes,
]);
export const SECONDS = FEED_SEC + 4;
export const calibration = parseCalibration(made.calibration, 'of the simulated sleeve');
const ADDRESS = brokerAddress({ broker: 'mqtt://localhost' }, {});
export const STARTS_MS = Date.UTC(2026, 0, 5, 9);
export const STEP_MS = 100;
const TRY_AGAIN_MS = 1000;
const SLEEVE = IDENTITY.sleeveNumber;

const binding: SleeveBinding = {
  ...{ calibration, made: calibration, history: historyOf([], String(SLEEVE), calibration) },
  ...{ setup: EMPTY_SETUP, bound: null, simulated: true },
  guided: { ran: null, notices: [], severalBabies: false },
  nobody: { ran: null, notices: [], severalBabies: false },
};

export interface Light {
  atMs: number;
  color: string;
}

/** Colors as the sleeve sets them, from its messages. */
function lightsOf(port: ReturnType<typeof handPort>, nowMs: () => number) {
  const lights: Light[] = [];
  const beats: { atMs: number; on: boolean }[] = [];
  let sounds = 0;
  const levels: [number, number, number] = [0, 0, 0];
  const write = port.write.bind(port);
  port.write = (bytes) => {
    write(bytes);
    for (const heard of port.heard.splice(0)) {
      if (heard.kind === 'sound' && heard.repeats > 0) sounds += 1;
      if (heard.kind === 'heartbeat') {
        const on = heard.guidanceOn !== 0;
        if (beats.at(-1)?.on !== on) beats.push({ atMs: nowMs(), on });
      }
      if (heard.kind !== 'analog') continue;
      levels[[3, 5, 6].indexOf(heard.pin)] = heard.level;
      if (heard.pin === 6) lights.push({ atMs: nowMs(), color: levels.join() });
    }
  };
  return { lights, beats, sounds: () => sounds };
}

export interface SmallWorker {
  id: string;
  worker: Worker;
  front: StoreFront;
  said: string[];
  /** Its connections. */
  isOf: Which;
  /** Like a killed process: nobody hears of it any more. */
  kill(): void;
}

/** A clock that runs as the other one, ahead of it. */
const ahead = (scheduler: SchedulerLike, byMs: number): SchedulerLike => ({
  now: () => scheduler.now() + byMs,
  schedule: (...args: Parameters<SchedulerLike['schedule']>) => scheduler.schedule(...args),
});

/**
 * @param broker  what `mqtt` connects to
 * @param relayAheadMs  how far the relay's clock is ahead of the workers'
 */
export function smallWard(broker: MemoryBroker, { relayAheadMs = 0 } = {}) {
  const clock = createVirtualClock();
  const { scheduler } = clock;
  broker.nowMs = () => clock.nowMs;
  const store = new SharedStore();
  let lastPort = ADDRESS.port;
  const port = handPort();
  const shown = lightsOf(port, () => clock.nowMs);
  const folder = join(temporaryFolder(), 'log');
  const relayOf = (link: HandPort, its: string, more: Partial<RelayOptions> = {}) => {
    const said: string[] = [];
    const relay = createRelay(
      {
        ...{ link, identity: IDENTITY, address: ADDRESS, place: PLACE, folder: its, newId: countedId },
        ...{ say: (text) => said.push(text), ...more },
      },
      ahead(scheduler, relayAheadMs),
    );
    onTestFinished(() => relay.close());
    return { said, relay };
  };
  let first = relayOf(port, folder);

  /** @param wallAheadMs  how far its calendar clock is ahead of the others' */
  function startWorker(name: string, { wallAheadMs = 0 } = {}): SmallWorker {
    let isDead = false;
    const address = { ...ADDRESS, port: ++lastPort };
    const isOf: Which = ({ port }) => port === address.port;
    const inbox: ToStore[] = [];
    const front = new StoreFront(
      (message) => {
        inbox.push(message);
        queueMicrotask(work);
      },
      () => clock.nowMs,
    );
    const answer = (message: FromStore): void => {
      if (!isDead) front.hear(message);
    };
    const queue = new StoreQueue(store.connection(name), {
      kept: (feedId, upTo) => answer({ kind: 'kept', feedId, upTo }),
      behind: (feedId) => answer({ kind: 'behind', feedId }),
      lost: (feedId) => answer({ kind: 'lost', feedId }),
      trouble: (trouble) => answer({ kind: 'trouble', trouble }),
      begun: () => {},
      over: () => {},
    });
    function work(): void {
      if (isDead) return;
      for (const message of inbox.splice(0)) {
        if (message.kind === 'keep') queue.add(message.ops);
        if (message.kind === 'bindings')
          answer({ ...message, bindings: message.sleeveNumbers.map((number) => [number, binding]) });
        if (message.kind === 'latest-feed') answer({ ...message, latest: store.latest(calibration) });
      }
      queue.drain();
    }
    const again = (): void => {
      work();
      if (!isDead) scheduler.schedule(again, TRY_AGAIN_MS);
    };
    again();
    const said: string[] = [];
    const id = countedId();
    const worker = new Worker(
      {
        ...{ address, site: null, room: null, front, mostSleeves: 10, id },
        wallNowMs: () => STARTS_MS + clock.nowMs + wallAheadMs,
        say: (text) => said.push(text),
      },
      scheduler,
    );
    onTestFinished(() => worker.close());
    return {
      ...{ id, worker, front, said, isOf },
      kill() {
        isDead = true;
        broker.cutOff(isOf);
      },
    };
  }

  let sentBytes = 0;
  const startsMs = 3000;
  return {
    ...{ clock, store, port, startWorker, shown },
    /** Another relay, with a sleeve and a folder of its own. */
    otherRelay(more: Partial<RelayOptions> = {}) {
      const other = handPort();
      return {
        port: other,
        ...lightsOf(other, () => clock.nowMs),
        ...relayOf(other, join(folder, '..', countedId()), more),
      };
    },
    /** @param meanwhile  called with the folder of the relay, while it does not run */
    async restartRelay(meanwhile: (folder: string) => void) {
      await first.relay.close();
      meanwhile(folder);
      first = relayOf(port, folder);
    },
    sentSec: () => (sentBytes / bytes.length) * SECONDS,
    /** The sleeve sends on, in real time, until this second of its feed. */
    async until(sec: number): Promise<void> {
      while (sentBytes < bytes.length && clock.nowMs < startsMs + sec * 1000) {
        await clock.advance(STEP_MS);
        const share = Math.max(0, clock.nowMs - startsMs) / (SECONDS * 1000);
        const end = Math.min(bytes.length, Math.floor(share * bytes.length));
        if (end > sentBytes) port.send(bytes.subarray(sentBytes, end));
        sentBytes = end;
      }
    },
    /** What workers told boards, with the worker's id; seconds of the sleeve's bytes. */
    states: () =>
      broker.passed
        .filter(({ topic, from }) => topic.endsWith('/state') && from.startsWith('ebbline-'))
        .map(({ payload, atMs }) => {
          const state = JSON.parse(Buffer.from(payload).toString()) as SleeveMessage;
          return { ...state, atSec: (atMs - startsMs) / 1000 };
        }),
    /** The sleeve has sent all; what is on the way arrives and is stored. */
    settle: () => clock.advance(12_000),
  };
}
