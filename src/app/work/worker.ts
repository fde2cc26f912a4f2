/**
 * One of any number of worker processes that guide the sleeves of a site. Relays ask on a shared topic, so that the broker gives each sleeve to one
 * worker, which keeps it as long as it publishes. A fault of one sleeve does not stop others.
 */
import { interval, type SchedulerLike, Subscription } from 'rxjs';
import type { BrokerAddress } from '../../../firmware-bridge/links/broker/broker-address.ts';
import {
  type BrokerMessage,
  type BrokerSession,
  lastingSession,
} from '../../../firmware-bridge/links/broker/broker-session.ts';
import {
  isStopTopic,
  placeIn,
  sleeveNumberIn,
  sleeveTopics,
  stopTopic,
  wantedTopic,
} from '../../../firmware-bridge/links/broker/topics.ts';
import { decodeWanted } from '../../../firmware-bridge/links/broker/wanted.ts';
import { PlainError } from '../../base/errors.ts';
import { SOFTWARE_VERSION } from '../../base/version.ts';
import type { Trouble } from '../../feed/record/pending-writes.ts';
import { encodeSleeveMessage, STATE_EXPIRES_SEC } from '../../ward/board/sleeve-message.ts';
import { readStop } from '../../ward/board/stop-message.ts';
import { decodeCheckpoint } from './checkpoint.ts';
import { GuidedSleeve } from './guided-sleeve.ts';
import { unguidedState } from './sleeve-state.ts';
import type { StoreFront } from './storing/store-front.ts';
import { type Asking, startOf } from './taking-up.ts';
import { WaitingRoom } from './waiting-room.ts';

export interface WorkerOptions {
  address: BrokerAddress;
  /** Null: of every site, or of every room. */
  site: string | null;
  room: string | null;
  front: StoreFront;
  /** 16 hexadecimal digits. */
  id: string;
  wallNowMs: () => number;
  say: (text: string) => void;
  /** Most sleeves; further ones are left to other workers. */
  mostSleeves: number;
}

/** Each sleeve's binding is read again every 5 s, in parts, so that reading those of many sleeves never holds up their bytes. */
const BIND_PARTS = 20;
const BIND_PART_MS = 250;
/** After this time a relay has asked again. */
const ASKED_FOR_MS = 3000;
/** After a fault of the program with a sleeve this worker leaves it alone for so long; another one may try. */
const SET_ASIDE_MS = 30_000;

export class Worker {
  /** Guided sleeves, by site, room and number. */
  readonly sleeves = new Map<string, GuidedSleeve>();
  /** Number of sleeves taken over since the start, and of those with a running feed. */
  taken = 0;
  takenInFeed = 0;
  brokerTrouble: Trouble | null = { code: 'broker-away', text: 'The broker has not answered yet.' };
  readonly #options: WorkerOptions;
  readonly #scheduler: SchedulerLike;
  readonly #everything = new Subscription();
  readonly #waiting: WaitingRoom<Asking>;
  readonly #coming = new Set<string>();
  readonly #said = new Map<string, string>();
  /** Sleeves whose bottle must not be given, and until when. */
  readonly #stopped = new Map<string, number>();
  /** Sleeves with which the program had a fault, and until when they are left alone. */
  readonly #setAside = new Map<string, number>();
  #session: BrokerSession | null = null;

  constructor(options: WorkerOptions, scheduler: SchedulerLike) {
    this.#options = options;
    this.#scheduler = scheduler;
    this.#waiting = new WaitingRoom((asking) => this.#takeUp(asking), scheduler, ASKED_FOR_MS);
    const { address, id, site, room } = options;
    this.#everything.add(
      lastingSession(
        {
          address,
          options: () => ({
            clientId: `ebbline-work-${id}`,
            keepSec: 0,
            topics: [wantedTopic(site, room), stopTopic(site, room)],
          }),
          begin: (session) => this.#begin(session),
          halt: (error) => this.#halt(error),
        },
        scheduler,
      ),
    );
    this.#everything.add(
      interval(BIND_PART_MS, scheduler).subscribe((no) => void this.#bindPart(no % BIND_PARTS)),
    );
  }

  /** Number of sleeves waiting to be taken over. */
  get waiting(): number {
    return this.#waiting.length;
  }

  #begin(session: BrokerSession): void {
    this.#session = session;
    this.brokerTrouble = null;
    this.#say('broker', `Sleeves are looked out for at ${this.#options.address.label}.`);
    session.messages$.subscribe((message) => this.#hear(message));
  }

  #halt(error: PlainError): void {
    this.#session = null;
    this.brokerTrouble = { code: error.code, text: error.text };
    this.#say('broker', `${error.text} It is tried again.`);
  }

  #hear({ topic, payload }: BrokerMessage): void {
    const [place, sleeveNumber] = [placeIn(topic), sleeveNumberIn(topic)];
    if (!place || sleeveNumber === null) return;
    const key = `${place.site}/${place.room}/${sleeveNumber}`;
    if (isStopTopic(topic)) this.#hearStop(key, payload);
    else this.#hearWanted({ key, place, sleeveNumber }, payload);
  }

  #hearWanted({ key, ...of }: Pick<Asking, 'key' | 'place' | 'sleeveNumber'>, payload: Uint8Array): void {
    const wanted = decodeWanted(payload);
    if (!wanted) return;
    if (this.sleeves.has(key) || this.#coming.has(key)) return;
    if (this.#scheduler.now() < (this.#setAside.get(key) ?? 0)) return;
    if (this.sleeves.size + this.#coming.size >= this.#options.mostSleeves) return;
    const checkpoint = decodeCheckpoint(wanted.checkpoint, SOFTWARE_VERSION);
    this.#waiting.add({ key, ...of, epoch: wanted.epoch, checkpoint }, checkpoint?.feed != null);
  }

  /** Heard by every worker: a sleeve may change hands meanwhile. */
  #hearStop(key: string, payload: Uint8Array): void {
    // An empty message takes a kept one back; noise changes nothing.
    const forSec = payload.length === 0 ? 0 : readStop(payload);
    if (forSec === null) return;
    if (forSec === 0) this.#stopped.delete(key);
    else this.#stopped.set(key, this.#scheduler.now() + forSec * 1000);
  }

  async #takeUp(asking: Asking): Promise<void> {
    const { key, place, sleeveNumber } = asking;
    if (this.sleeves.has(key) || this.#everything.closed) return;
    this.#coming.add(key);
    try {
      const start = await startOf(asking, this.#options, this.#scheduler);
      if (this.#everything.closed) return;
      const { address, front, id, wallNowMs } = this.#options;
      const sleeve: GuidedSleeve = new GuidedSleeve(
        {
          ...{ address, place, sleeveNumber, front, wallNowMs, ...start },
          worker: id,
          stoppedUntilMs: () => this.#stopped.get(key) ?? Number.NEGATIVE_INFINITY,
          gone: (fault) => {
            if (this.sleeves.get(key) === sleeve) this.sleeves.delete(key);
            if (fault !== undefined) this.#leaveAlone(asking, fault);
          },
        },
        this.#scheduler,
      );
      this.sleeves.set(key, sleeve);
      let isGuided = false;
      try {
        isGuided = await sleeve.open();
      } finally {
        if (!isGuided) {
          this.sleeves.delete(key);
          await sleeve.close();
        }
      }
      // Another worker has it, or it will be asked for again.
      if (!isGuided) return;
      this.taken += 1;
      if (start.checkpoint?.feed) this.takenInFeed += 1;
      this.#said.delete(key);
    } catch (error) {
      if (error instanceof PlainError) this.#tellUnguided(asking, error);
      else if (asking.checkpoint) await this.#takeUpAnew(asking, error);
      else this.#leaveAlone(asking, error);
    } finally {
      this.#coming.delete(key);
    }
  }

  /** A fault of the program with one sleeve, which may come again with the same bytes, must not end the guidance of the others. */
  #leaveAlone(asking: Asking, fault: unknown): void {
    this.#setAside.set(asking.key, this.#scheduler.now() + SET_ASIDE_MS);
    this.#options.say(`Report this fault: ${fault instanceof Error ? fault.stack : String(fault)}`);
    this.#tellUnguided(
      asking,
      new PlainError(
        'sleeve-fault',
        'The program has a fault with what this sleeve sends, and leaves it alone for half a minute.',
        'Feed by watching the baby. The bytes are kept, and the feed goes on from them.',
      ),
    );
  }

  /** A checkpoint may be whole and yet of no use, from a version with another shape of it: that must not end the program, and with it all other feeds. */
  #takeUpAnew(asking: Asking, fault: unknown): Promise<void> {
    const { key, sleeveNumber } = asking;
    this.#say(key, `Sleeve ${sleeveNumber}: what its last guide left cannot be used (${String(fault)}).`);
    return this.#takeUp({ ...asking, checkpoint: null });
  }

  #tellUnguided({ key, place, sleeveNumber, epoch }: Asking, error: PlainError): void {
    this.#say(key, `Sleeve ${sleeveNumber} in room "${place.room}" of site "${place.site}": ${error.text}`);
    const state = unguidedState({ sleeveNumber, worker: this.#options.id, epoch }, error);
    this.#session?.publish(sleeveTopics(place, sleeveNumber).state, encodeSleeveMessage(state), {
      retain: true,
      expirySec: STATE_EXPIRES_SEC,
    });
  }

  async #bindPart(part: number): Promise<void> {
    const sleeves = [...this.sleeves.values()].filter((_, i) => i % BIND_PARTS === part);
    if (sleeves.length === 0) return;
    try {
      const bindings = await this.#options.front.bindings(sleeves.map(({ sleeveNumber }) => sleeveNumber));
      for (const sleeve of sleeves) {
        const binding = bindings.get(sleeve.sleeveNumber);
        if (binding) sleeve.bind(binding);
      }
    } catch (error) {
      // On an error the known bindings stay.
      if (!(error instanceof PlainError)) throw error;
    }
  }

  #say(about: string, text: string): void {
    if (this.#said.get(about) !== text) this.#options.say(text);
    this.#said.set(about, text);
  }

  /** Releases all sleeves; their feeds continue elsewhere. */
  async close(): Promise<void> {
    if (this.#everything.closed) return;
    this.#everything.unsubscribe();
    this.#waiting.close();
    await Promise.all([...this.sleeves.values()].map((sleeve) => sleeve.close()));
    this.sleeves.clear();
  }
}
