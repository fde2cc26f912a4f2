/**
 * The host program in a simulated world whose events come from a seed: kills, cut cables, resets, full disks, writes that succeed though they
 * report an error, clock changes, lost bytes, a busy host, a phone that sends commands. Virtual time, the real store on a real folder.
 * A small model beside it knows what must hold; violations are reported with the seed, which repeats them.
 */
import * as fs from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createSimulatedLink, type SimulatedLink } from '../../firmware-bridge/links/simulated-link.ts';
import { PlainError } from '../../src/base/errors.ts';
import { createLiveFeed, type LiveFeed } from '../../src/feed/live/live.ts';
import type { LiveCommand, LiveView } from '../../src/feed/live/live-view.ts';
import { CUES } from '../../src/pacing/cues/cues.ts';
import { examine } from '../../src/store/check/examine.ts';
import type { FeedStore } from '../../src/store/feed-store.ts';
import { openStore } from '../../src/store/open-store.ts';
import { holdFolder } from '../../src/store/portable/held-folder.ts';
import {
  DATABASE_CALLS,
  DISK_CALLS,
  type FailingStorage,
  failingStorage,
  type Trouble,
} from './failing-storage.ts';
import { createPlainClock, type PlainClock } from './plain-clock.ts';
import { seededRandom } from './random.ts';
import { createScriptedSleeve, type ScriptedSleeve } from './scripted-sleeve.ts';
import { A_SECOND_MS, bytesOf, type Heard, withHoles } from './world-bytes.ts';
import { CODES, TURNS, type Turn, type WorldResult } from './world-turns.ts';

const MORNING_MS = Date.UTC(2026, 0, 5, 9);
/** Time between two events, seconds of virtual time. */
const TURN_SEC = { least: 0.5, most: 6 };

/** One run of the program: from its start to a kill or stop. */
interface Life {
  storage: FailingStorage;
  store: FeedStore;
  live: LiveFeed;
  link: SimulatedLink;
}

export async function playWorld(seed: number, virtualSec: number): Promise<WorldResult> {
  const world = new World(seed);
  try {
    return await world.play(virtualSec);
  } finally {
    world.clear();
  }
}

class World {
  readonly #random: () => number;
  readonly #clock: PlainClock = createPlainClock();
  readonly #sleeve: ScriptedSleeve = createScriptedSleeve();
  readonly #root = fs.mkdtempSync(join(tmpdir(), 'ebbline-world-'));
  readonly #result: WorldResult;
  #folder = join(this.#root, 'data');
  #lives = 0;
  #feedNumber = 0;
  #setMs = 0;
  #plugged = true;
  #losing = false;
  #heardAtMs = Number.NEGATIVE_INFINITY;
  /** Bytes that reached the program while a feed was open, by feed, and the time of the last ones. */
  readonly #heard = new Map<string, Heard>();
  readonly #discarded = new Set<string>();
  /** When the disk began to refuse, and when it last recovered. */
  #troubleFromMs: number | null = null;
  #wellFromMs = Number.NEGATIVE_INFINITY;
  #view: LiveView | null = null;
  #life: Life | null = null;

  constructor(seed: number) {
    this.#random = seededRandom(seed);
    this.#result = {
      seed,
      virtualSec: 0,
      feeds: 0,
      turns: {},
      inFeed: {},
      unplugs: 0,
      failures: 0,
      broken: [],
    };
    this.#sleeve.samplesPerSec = 40;
  }

  clear(): void {
    fs.rmSync(this.#root, { recursive: true, force: true });
  }

  async play(virtualSec: number): Promise<WorldResult> {
    await this.#start();
    while (this.#clock.nowMs < virtualSec * 1000 && this.#result.broken.length === 0) {
      await this.#pass(TURN_SEC.least + this.#random() * (TURN_SEC.most - TURN_SEC.least));
      await this.#turn(TURNS[Math.floor(this.#random() * TURNS.length)]!);
    }
    await this.#end();
    return { ...this.#result, virtualSec: this.#clock.nowMs / 1000, feeds: this.#heard.size };
  }

  #must(holds: boolean, what: string): void {
    if (!holds) this.#result.broken.push(`at ${(this.#clock.nowMs / 1000).toFixed(1)} s: ${what}`);
  }

  async #pass(seconds: number): Promise<void> {
    const untilMs = this.#clock.nowMs + seconds * 1000;
    while (this.#clock.nowMs < untilMs) {
      await this.#clock.advance(Math.min(250, untilMs - this.#clock.nowMs));
      this.#look();
    }
  }

  async #start(): Promise<void> {
    const storage = failingStorage();
    const wallNowMs = () => MORNING_MS + this.#setMs + this.#clock.nowMs;
    const store = openStore(this.#folder, {
      recording: true,
      disk: storage.disk,
      open: storage.open,
      nowMs: wallNowMs,
      packsLater: true,
    });
    for (const { id } of store.unfinished()) store.recover(id, null);
    for (const id of store.unsettled()) store.settlePacked(id, store.packCapture(id));
    const link = createSimulatedLink(this.#sleeveFromNow(), { speed: 1 }, this.#clock.scheduler);
    const lossy: SimulatedLink = { ...link, bytes$: link.bytes$ };
    const life = ++this.#lives;
    const live = createLiveFeed(
      {
        link: lossy,
        calibration: this.#sleeve.calibration,
        storage: store,
        outputs: { setLight: () => {}, sound: () => {}, heartbeat: () => {} },
        newFeedId: () => `feed-${++this.#feedNumber}`,
        wallNowMs,
        simulated: true,
        sleeveId: 'bench-1',
        refinesLater: true,
        mostHeldBytes: 256 * 1024,
      },
      this.#clock.scheduler,
    );
    this.#life = { storage, store, live, link };
    live.view$.subscribe((view) => {
      if (life === this.#lives) this.#view = view;
    });
    link.bytes$.subscribe((bytes) => this.#note(bytes));
    await link.open();
    if (!this.#plugged) link.unplug();
  }

  /** The chip ran on while the program was away, so the link of this run begins at its present time. */
  #sleeveFromNow() {
    const bornSec = this.#clock.nowMs / 1000;
    return {
      advance: (untilSec: number): Uint8Array => {
        const bytes = this.#sleeve.advance(bornSec + untilSec);
        return this.#losing ? withHoles(bytes, this.#random) : bytes;
      },
      receive: () => {},
    };
  }

  #note(bytes: Uint8Array): void {
    if (bytes.length > 0) this.#heardAtMs = this.#clock.nowMs;
    const view = this.#view;
    if (view?.feedState !== 'open' || view.feedId === null) return;
    const heard = this.#heard.get(view.feedId) ?? {
      parts: [],
      told: false,
      sureUntilMs: Number.POSITIVE_INFINITY,
    };
    heard.parts.push({ bytes: Uint8Array.from(bytes), atMs: this.#clock.nowMs });
    this.#heard.set(view.feedId, heard);
  }

  /** Checks what must hold at any moment. */
  #look(): void {
    const view = this.#view!;
    const silentMs = this.#clock.nowMs - this.#heardAtMs;
    const isCue = view.showing in CUES;
    this.#must(!isCue || silentMs <= 1000, `the cue ${view.showing} stands on data ${silentMs} ms old`);
    this.#must(
      silentMs <= 1000 || view.showing === 'no-guidance' || view.showing === 'guidance-off',
      `nothing was heard for ${silentMs} ms, but it shows ${view.showing}`,
    );
    this.#must(
      silentMs <= 1000 || view.numbers.flowMlPerMin === null,
      'a number stands from before the silence',
    );
    const waits = (view.unkept?.length ?? 0) > 0;
    this.#must(
      !waits || view.notice !== null || this.#life!.storage.trouble === null,
      'something waits for the disk, and nothing is said',
    );
    if (view.notice !== null && view.feedId !== null) {
      const heard = this.#heard.get(view.feedId);
      if (heard && view.noticeCodes?.includes('raw-lost')) heard.told = true;
    }
  }

  async #turn(turn: Turn): Promise<void> {
    this.#result.turns[turn] = (this.#result.turns[turn] ?? 0) + 1;
    if (this.#openFeed() !== null) this.#result.inFeed[turn] = (this.#result.inFeed[turn] ?? 0) + 1;
    const { storage, live, link } = this.#life!;
    switch (turn) {
      case 'mouth':
        if (this.#sleeve.milkMl < 10) this.#sleeve.milkMl = 90;
        if (this.#openFeed() === null) return this.#offer();
        this.#sleeve.mouth = this.#sleeve.mouth === 'out' ? 'sucking' : 'out';
        return;
      case 'cable':
        this.#plugged = !this.#plugged;
        if (this.#plugged) return link.replug();
        this.#result.unplugs++;
        return link.unplug();
      case 'reset':
        return this.#sleeve.reset();
      case 'disk':
        if (storage.trouble) this.#endTrouble();
        else this.#trouble({ calls: this.#someCalls(), code: this.#one(CODES) });
        return;
      case 'full-disk':
        // Some bytes still fit, perhaps part of a record; the database finds no room at all.
        this.#trouble({
          calls: DATABASE_CALLS,
          code: 'ENOSPC',
          room: Math.floor(this.#random() * 4000),
        });
        await this.#pass(1 + 9 * this.#random());
        return this.#endTrouble();
      case 'late-write':
        this.#trouble({ calls: this.#someCalls(), code: this.#one(CODES), done: true });
        await this.#pass(1.5);
        this.#endTrouble();
        return;
      case 'kill':
        return this.#kill();
      case 'clock':
        this.#setMs += this.#one([-86_400_000, -3_600_000, -1000, 1000, 3_600_000, 365 * 86_400_000]);
        return;
      case 'lost-bytes':
        this.#losing = !this.#losing;
        return;
      case 'busy':
        // Everything due in this time runs late, at once.
        this.#clock.stall(1500 + 2000 * this.#random());
        await this.#clock.advance(300);
        return;
      case 'silence':
        this.#sleeve.sending = !this.#sleeve.sending;
        return;
      case 'order':
        return this.#order(live);
      case 'stop':
        return this.#stop();
    }
  }

  /** Somebody begins to feed: cable plugged in, bottle upright in the hand, then the nipple. */
  async #offer(): Promise<void> {
    if (!this.#plugged) this.#life!.link.replug();
    this.#plugged = true;
    this.#sleeve.sending = true;
    this.#sleeve.mouth = 'out';
    await this.#pass(5);
    this.#sleeve.mouth = 'sucking';
    await this.#pass(4);
  }

  #order(live: LiveFeed): void {
    const orders: LiveCommand[] = [
      { kind: 'burped' },
      { kind: 'end-feed' },
      { kind: 'discard-feed' },
      { kind: 'mute', on: this.#random() < 0.5 },
      { kind: 'guidance-off', on: this.#random() < 0.3 },
      { kind: 'hand-over', caregiver: this.#one(['Juno', 'M.', null]) },
    ];
    const order = this.#one(orders);
    const before = this.#view!.feedId;
    try {
      live.command(order);
    } catch (error) {
      // A refusing disk is reported; any other error is a mistake of the program.
      this.#must(error instanceof PlainError, `an order was met with ${String(error)}`);
    }
    if (order.kind === 'discard-feed' && before !== null && this.#view!.feedState === 'discarded')
      this.#discarded.add(before);
  }

  /** After a kill only what is in the files at that moment remains; the memory is gone. */
  async #kill(): Promise<void> {
    const { store, live, storage } = this.#life!;
    const next = join(this.#root, `life-${this.#lives}`);
    fs.cpSync(this.#folder, next, { recursive: true });
    for (const name of ['recording.lock', 'recording.lock-journal'])
      fs.rmSync(join(next, name), { force: true });
    const loss = this.#openFeed();
    const sureMs = this.#sureMs();
    this.#lives++;
    storage.trouble = null;
    live.stop();
    store.close();
    await this.#life!.link.close();
    this.#result.failures += storage.failures;
    this.#folder = next;
    // If the disk took no byte of a feed, nothing of it can be there.
    for (const id of [loss, ...(this.#view?.unkept ?? [])]) {
      if (id === null) continue;
      this.#killed.add(id);
      const heard = this.#heard.get(id);
      if (heard) heard.sureUntilMs = Math.min(heard.sureUntilMs, sureMs);
    }
    // The mark "not a feed" was still waiting for the disk, as the notice said.
    if (this.#view?.notice && this.#view.feedId !== null) this.#discarded.delete(this.#view.feedId);
    this.#troubleFromMs = null;
    this.#view = null;
    await this.#start();
  }
  /** Until when a kill now costs nothing: one second ago while the disk works; else the time at which it stopped working. */
  #sureMs(): number {
    const { nowMs } = this.#clock;
    const fromMs =
      this.#life!.storage.trouble || nowMs - this.#wellFromMs < 2 * A_SECOND_MS ? this.#troubleFromMs : null;
    return (fromMs ?? nowMs) - A_SECOND_MS;
  }

  /** Feeds that may have lost unwritten data in a kill. */
  readonly #killed = new Set<string>();

  #openFeed(): string | null {
    const view = this.#view;
    return view?.feedState === 'open' ? view.feedId : null;
  }

  /** The disk works again, and the program is asked to stop: all that was received must be stored. */
  async #stop(): Promise<void> {
    const { store, live, storage, link } = this.#life!;
    storage.trouble = null;
    live.stop();
    this.#must(live.keepRest(), 'something was not kept though the disk takes all');
    this.#must((this.#view?.unkept?.length ?? 0) === 0, 'a feed is said to wait though all is kept');
    this.#lives++;
    store.close();
    await link.close();
    this.#result.failures += storage.failures;
    this.#view = null;
    await this.#start();
  }

  async #end(): Promise<void> {
    await this.#stop();
    const { store } = this.#life!;
    const feeds = store.list({ discarded: true });
    const ids = feeds.map(({ id }) => id);
    this.#must(new Set(ids).size === ids.length, 'a feed stands twice in the list');
    for (const [id, heard] of this.#heard) {
      const feed = feeds.find((one) => one.id === id);
      if (!feed) {
        this.#must(this.#killed.has(id), `feed ${id} is gone`);
        continue;
      }
      this.#must(
        feed.state === (this.#discarded.has(id) && !this.#killed.has(id) ? 'discarded' : feed.state),
        `feed ${id} was discarded and is ${feed.state}`,
      );
      this.#must(feed.state !== 'open', `feed ${id} is still open`);
      this.#must(
        feed.endedAtMs === null || feed.endedAtMs >= feed.startedAtMs,
        `feed ${id} ends before it starts`,
      );
      const path = store.capturePath(id);
      const kept = path === null ? Buffer.alloc(0) : bytesOf(path);
      const sure = heard.parts.filter(({ atMs }) => atMs <= heard.sureUntilMs);
      const all = Buffer.concat(sure.map(({ bytes }) => bytes));
      if (!heard.told) {
        this.#must(
          kept.includes(all),
          `of feed ${id} not all of the ${all.length} bytes heard are kept (${kept.length}), and nothing is said of a loss`,
        );
      }
    }
    await this.#life!.link.close();
    this.#life!.live.stop();
    this.#lives++;
    store.close();
    const held = holdFolder(this.#folder);
    const { findings } = examine(this.#folder, held.database, true);
    held.close();
    for (const { kind, what } of findings) this.#must(kind === 'capture-unpacked', what);
  }

  #trouble(trouble: Trouble): void {
    if (!this.#life!.storage.trouble) this.#troubleFromMs = this.#clock.nowMs;
    this.#life!.storage.trouble = trouble;
  }

  #endTrouble(): void {
    this.#life!.storage.trouble = null;
    this.#wellFromMs = this.#clock.nowMs;
  }

  #someCalls() {
    const calls = [...DISK_CALLS, ...DATABASE_CALLS];
    return this.#random() < 0.6 ? calls : [this.#one(calls)];
  }

  #one<T>(list: readonly T[]): T {
    return list[Math.floor(this.#random() * list.length)]!;
  }
}
