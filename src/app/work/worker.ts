/**
 * One of any number of processes that guide a house's sleeves. Relays ask on a topic that all of them share, so that the broker hands each sleeve to
 * one; that one keeps it for as long as it speaks. Nothing of one sleeve stops another.
 */
import { interval, type SchedulerLike, Subscription } from 'rxjs';
import type { BrokerAddress } from '../../../firmware-bridge/links/broker/broker-address.ts';
import {
  type BrokerMessage,
  type BrokerSession,
  keptSession,
} from '../../../firmware-bridge/links/broker/broker-session.ts';
import {
  isStopTopic,
  type Place,
  placeIn,
  sleeveNumberIn,
  sleeveTopics,
  stopTopic,
  wantedTopic,
} from '../../../firmware-bridge/links/broker/topics.ts';
import { decodeWanted } from '../../../firmware-bridge/links/broker/wanted.ts';
import { PlainError } from '../../base/errors.ts';
import { SOFTWARE_VERSION } from '../../base/version.ts';
import type { Trouble } from '../../feed/record/keeping.ts';
import { encodeSleeveMessage, STATE_EXPIRES_SEC } from '../../ward/board/sleeve-message.ts';
import { readStop } from '../../ward/board/stop-message.ts';
import { inTime } from './in-time.ts';
import type { KeptFront } from './keeping/kept-front.ts';
import type { SleeveBinding } from './keeping/kept-ops.ts';
import { decodeNote, type SleeveNote } from './sleeve-note.ts';
import { SleeveSeat } from './sleeve-seat.ts';
import { unguidedState } from './sleeve-state.ts';
import { WaitingRoom } from './waiting-room.ts';

export interface WorkerOptions {
  address: BrokerAddress;
  /** Null: of every site, or of every room. */
  site: string | null;
  room: string | null;
  front: KeptFront;
  /** 16 hexadecimal digits. */
  id: string;
  wallNowMs: () => number;
  say: (text: string) => void;
  /** Sleeves at most; those that come beyond that are another's. */
  mostSleeves: number;
}

/** A sleeve that asks. */
interface Asking {
  key: string;
  place: Place;
  sleeveNumber: number;
  epoch: number;
  note: SleeveNote | null;
}

const BIND_EVERY_MS = 5000;
/** A database that answers no sooner is taken to be away; what the last guide knew stands. */
const BINDING_LIMIT_MS = 1000;
/** A question that was not answered by then was asked anew. */
const ASKED_FOR_MS = 3000;

export class Worker {
  /** Sleeves that are guided here, by site, room and number. */
  readonly seats = new Map<string, SleeveSeat>();
  /** Sleeves that were taken up since the start, and those of them that a feed ran on. */
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
  #session: BrokerSession | null = null;

  constructor(options: WorkerOptions, scheduler: SchedulerLike) {
    this.#options = options;
    this.#scheduler = scheduler;
    this.#waiting = new WaitingRoom((asking) => this.#takeUp(asking), scheduler, ASKED_FOR_MS);
    const { address, id, site, room } = options;
    this.#everything.add(
      keptSession(
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
    this.#everything.add(interval(BIND_EVERY_MS, scheduler).subscribe(() => void this.#bindAll()));
  }

  /** Sleeves that wait to be taken up. */
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
    if (this.seats.has(key) || this.#coming.has(key)) return;
    if (this.seats.size + this.#coming.size >= this.#options.mostSleeves) return;
    const note = decodeNote(wanted.note, SOFTWARE_VERSION);
    this.#waiting.add({ key, ...of, epoch: wanted.epoch, note }, note?.feed != null);
  }

  /** Heard by every worker: a sleeve may change hands meanwhile. */
  #hearStop(key: string, payload: Uint8Array): void {
    const forSec = readStop(payload);
    if (forSec === null || forSec === 0) this.#stopped.delete(key);
    else this.#stopped.set(key, this.#scheduler.now() + forSec * 1000);
  }

  async #takeUp(asking: Asking): Promise<void> {
    const { key, place, sleeveNumber, epoch, note } = asking;
    if (this.seats.has(key) || this.#everything.closed) return;
    this.#coming.add(key);
    try {
      const binding = await this.#bindingOf(sleeveNumber, note);
      if (this.#everything.closed) return;
      const { address, front, id, wallNowMs } = this.#options;
      const seat: SleeveSeat = new SleeveSeat(
        {
          ...{ address, place, sleeveNumber, epoch, note, binding, front, wallNowMs },
          worker: id,
          stoppedUntilMs: () => this.#stopped.get(key) ?? Number.NEGATIVE_INFINITY,
          gone: () => {
            if (this.seats.get(key) === seat) this.seats.delete(key);
          },
        },
        this.#scheduler,
      );
      this.seats.set(key, seat);
      try {
        await seat.open();
      } catch (error) {
        this.seats.delete(key);
        throw error;
      }
      this.taken += 1;
      if (note?.feed) this.takenInFeed += 1;
      this.#said.delete(key);
    } catch (error) {
      if (!(error instanceof PlainError)) throw error;
      this.#tellUnguided(asking, error);
    } finally {
      this.#coming.delete(key);
    }
  }

  /** A feed that runs goes on by what it began with; else the store is asked, and what the last guide knew stands in for a dead one. */
  async #bindingOf(sleeveNumber: number, note: SleeveNote | null): Promise<SleeveBinding> {
    if (note?.feed) return note.binding;
    try {
      const bindings = await inTime(
        this.#options.front.bindings([sleeveNumber]),
        BINDING_LIMIT_MS,
        this.#scheduler,
      );
      const binding = bindings.get(sleeveNumber);
      if (binding) return binding;
    } catch (error) {
      if (!(error instanceof PlainError)) throw error;
      if (note) return note.binding;
      throw error;
    }
    throw new PlainError(
      'sleeve-unknown',
      `No calibration of sleeve ${sleeveNumber} is kept here, so it is not guided; all others are.`,
      'Calibrate it, or bring its calibration: ebbline sleeve calibrations.',
    );
  }

  #tellUnguided({ key, place, sleeveNumber, epoch }: Asking, error: PlainError): void {
    this.#say(key, `Sleeve ${sleeveNumber} in room "${place.room}" of site "${place.site}": ${error.text}`);
    const state = unguidedState({ sleeveNumber, worker: this.#options.id, epoch }, error);
    this.#session?.publish(sleeveTopics(place, sleeveNumber).state, encodeSleeveMessage(state), {
      retain: true,
      expirySec: STATE_EXPIRES_SEC,
    });
  }

  async #bindAll(): Promise<void> {
    const seats = [...this.seats.values()];
    if (seats.length === 0) return;
    try {
      const bindings = await this.#options.front.bindings(seats.map(({ sleeveNumber }) => sleeveNumber));
      for (const seat of seats) {
        const binding = bindings.get(seat.sleeveNumber);
        if (binding) seat.bind(binding);
      }
    } catch (error) {
      // What is known stands.
      if (!(error instanceof PlainError)) throw error;
    }
  }

  #say(about: string, text: string): void {
    if (this.#said.get(about) !== text) this.#options.say(text);
    this.#said.set(about, text);
  }

  /** Lets go of all sleeves; their feeds go on elsewhere. */
  async close(): Promise<void> {
    if (this.#everything.closed) return;
    this.#everything.unsubscribe();
    this.#waiting.close();
    await Promise.all([...this.seats.values()].map((seat) => seat.close()));
    this.seats.clear();
  }
}
