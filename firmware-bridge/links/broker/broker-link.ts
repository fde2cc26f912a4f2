/** A sleeve behind a relay and a broker: the same bytes as on its port, in order, none twice. `open` while they are new, else `lost`, so that no cue comes from old data. */
import { interval, ReplaySubject, type SchedulerLike, Subject, Subscription } from 'rxjs';
import type { PlainError } from '../../../src/base/errors.ts';
import type { LinkState } from '../link.ts';
import { monotonic } from '../monotonic.ts';
import type { BrokerLinkOptions, BrokerSleeveLink } from './broker-link-kind.ts';
import { closedEarly, isSameState, type KnownOfSleeve, nothingNew, whyNotNew } from './broker-link-words.ts';
import { type BrokerMessage, type BrokerSession, lastingSession } from './broker-session.ts';
import { decodeRelayWord, type RelayWord } from './claim.ts';
import { decodeSleeveFrame, heardAgoMs, type Mark, type SleeveFrame } from './frames.ts';
import { GuideVoice } from './guide-voice.ts';
import { type Received, takeFrame } from './in-order.ts';
import { isElsewhere, isOther, NOBODY, type Obeyed, seeObeyed } from './obeyed.ts';
import { sleeveNumberIn, sleeveTopics } from './topics.ts';
import { encodeCheckpointWord } from './wanted.ts';

/** No guidance is based on bytes older than this. Own choice: three heartbeats. */
const FRESH_MS = 1500;
const LOOK_MS = 250;
const WORD_EVERY_MS = 500;
const ASK_EVERY_MS = 1000;
/** Bytes taken are acknowledged in steps of this size, so that the relay sends more. */
const TELL_EVERY_BYTES = 64 * 1024;
/** Of a message to the sleeve: no new connection sends it again, and the broker discards it when it is old. */
const WORD = { isFleeting: true, expirySec: 2 };
/** Longest time until it is open, but for the time in which old bytes come: those of hours take longer. */
const OPEN_LIMIT_MS = 8000;

/** `open` throws a PlainError if the broker refuses or cannot be reached, if no relay passes on a sleeve of that number, or if it is closed meanwhile. */
export function createBrokerLink(
  options: BrokerLinkOptions,
  scheduler: SchedulerLike = monotonic,
): BrokerSleeveLink {
  return new BrokerLink(options, scheduler);
}

class BrokerLink implements BrokerSleeveLink {
  readonly label: string;
  readonly bytes$ = new Subject<Uint8Array>();
  readonly state$ = new ReplaySubject<LinkState>(1);
  readonly #options: BrokerLinkOptions;
  readonly #scheduler: SchedulerLike;
  readonly #topics: ReturnType<typeof sleeveTopics>;
  readonly #id: string;
  readonly #voice: GuideVoice;
  readonly #running = new Subscription();
  readonly #relays = new Map<number, RelayWord>();
  #told: LinkState = { kind: 'opening' };
  #session: BrokerSession | null = null;
  #trouble: PlainError | null = null;
  #received: Received | null = null;
  #relay: Mark | null = null;
  #obeyed: Obeyed = NOBODY;
  #isThere = true;
  #checkpoint: Uint8Array | null = null;
  #freshUntilMs = Number.NEGATIVE_INFINITY;
  #progressAtMs = 0;
  #opening: { resolve: () => void; reject: (error: PlainError) => void } | null = null;
  #isEnded = false;

  constructor(options: BrokerLinkOptions, scheduler: SchedulerLike) {
    this.#options = options;
    this.#scheduler = scheduler;
    this.#topics = sleeveTopics(options.place, options.sleeveNumber);
    this.#id = options.newId();
    if (options.from) this.#received = { ...options.from, lost: 0 };
    this.label = `${options.address.label}, sleeve ${options.sleeveNumber}`;
    this.#voice = new GuideVoice(
      { id: this.#id, epoch: options.epoch ?? 0 },
      () => ({ received: this.#received, relay: this.#relay }),
      (frame) => this.#session?.publish(this.#topics.toSleeve, frame, WORD),
      scheduler,
    );
    this.state$.next(this.#told);
  }

  open(): Promise<void> {
    if (this.#opening || this.#isEnded) return Promise.resolve();
    this.#progressAtMs = this.#scheduler.now();
    return new Promise((resolve, reject) => {
      this.#opening = { resolve, reject };
      this.#running.add(this.#connect());
      this.#running.add(interval(LOOK_MS, this.#scheduler).subscribe(() => this.#look()));
    });
  }

  #connect(): Subscription {
    const { address, place, sleeveNumber, epoch } = this.#options;
    // A guide that was asked by a relay knows that it is there. If every guide heard all relays, the messages would grow with the square of their number.
    const whoseRelay = epoch === undefined ? '+' : sleeveNumber;
    return lastingSession(
      {
        address,
        options: () => ({
          clientId: `ebbline-guide-${this.#id}`,
          // What came while this connection was down is asked for at the relay, which stores it longer.
          keepSec: 0,
          topics: [sleeveTopics(place, whoseRelay).relay],
          unconfirmed: [this.#topics.fromSleeve],
        }),
        begin: (session) => this.#begin(session),
        halt: (error) => this.#halt(error),
      },
      this.#scheduler,
    );
  }

  #begin(session: BrokerSession): void {
    this.#session = session;
    this.#trouble = null;
    this.#running.add(session.messages$.subscribe((message) => this.#hear(message)));
    this.#voice.ask(ASK_EVERY_MS);
    if (this.#checkpoint) this.leaveCheckpoint(this.#checkpoint);
  }

  #halt(error: PlainError): void {
    this.#session = null;
    this.#trouble = error;
    this.#giveUp(error);
    this.#look();
  }

  /** Gives up only if the link was never open. */
  #giveUp(error: PlainError): void {
    if (this.#told.kind !== 'opening' || this.#isEnded) return;
    this.#opening?.reject(error);
    void this.close();
  }

  #hear({ topic, payload }: BrokerMessage): void {
    if (topic === this.#topics.fromSleeve) {
      const frame = decodeSleeveFrame(payload);
      if (frame) this.#take(frame);
      return;
    }
    const number = sleeveNumberIn(topic);
    const word = decodeRelayWord(payload);
    if (number === null || !word || word.says === 'asks') return;
    this.#relays.set(number, word);
    if (number === this.#options.sleeveNumber) this.#look();
  }

  #take(frame: SleeveFrame): void {
    const nowMs = this.#scheduler.now();
    this.#obeyed = seeObeyed(this.#obeyed, frame.guide, this.#id, nowMs - this.#voice.firstAtMs);
    this.#isThere = frame.isThere;
    // Until the relay has heard of this guide, its bytes may start anywhere.
    if (!this.#obeyed.isHeard) return;
    if (this.#received === null && this.#options.reachBackBytes) this.#reachBack(frame);
    const { received, bytes, isGap } = takeFrame(this.#received, frame);
    if (isGap) {
      this.#voice.ask(ASK_EVERY_MS);
      return;
    }
    this.#received = received;
    this.#relay = frame.ageMs === null ? null : frame.mark;
    if (bytes.length > 0 && frame.ageMs === null) this.#progressAtMs = nowMs;
    if (bytes.length > 0) this.bytes$.next(bytes);
    if (frame.isThere) this.#freshUntilMs = nowMs - heardAgoMs(frame, this.#id, nowMs) + FRESH_MS;
    else this.#freshUntilMs = Number.NEGATIVE_INFINITY;
    if (received.next - this.#voice.toldNext >= TELL_EVERY_BYTES) this.#voice.say();
    this.#look();
  }

  #reachBack({ stream, previous }: SleeveFrame): void {
    this.#received = { stream, next: Math.max(0, previous - this.#options.reachBackBytes!), lost: 0 };
    this.#voice.say(undefined, true);
  }

  #look(): void {
    if (this.#isEnded) return;
    const nowMs = this.#scheduler.now();
    if (this.#session && nowMs - this.#voice.wordAtMs >= WORD_EVERY_MS) {
      // A relay that has just started does not know what this guide wants.
      const isAsking = this.#received === null || this.#obeyed.guide?.id !== this.#id;
      if (isAsking) this.#voice.ask(ASK_EVERY_MS);
      else this.#voice.say();
    }
    if (this.#session && nowMs < this.#freshUntilMs) {
      this.#tell({ kind: 'open' });
      this.#opening?.resolve();
    } else if (this.#told.kind !== 'opening') this.#tell({ kind: 'lost', reason: this.#reason() });
    else if (nowMs - this.#progressAtMs >= OPEN_LIMIT_MS || isElsewhere(this.#obeyed, this.#id))
      this.#giveUp(nothingNew(this.#known()));
  }

  #tell(state: LinkState): void {
    const same = isSameState(state, this.#told);
    this.#told = state;
    if (!same) this.state$.next(state);
  }

  #reason(): string {
    return this.#trouble?.text ?? whyNotNew(this.#known());
  }

  #known(): KnownOfSleeve {
    const { sleeveNumber, place, address } = this.#options;
    return {
      sleeveNumber,
      place,
      broker: address.label,
      relays: this.#relays,
      isThere: this.#isThere,
      otherGuides: this.isReplaced,
    };
  }

  get id(): string {
    return this.#id;
  }

  get received(): Received | null {
    return this.#received;
  }

  get isReplaced(): boolean {
    return isOther(this.#obeyed.guide, this.#id);
  }

  leaveCheckpoint(checkpoint: Uint8Array): void {
    this.#checkpoint = checkpoint;
    const { epoch = 0 } = this.#options;
    this.#session?.publish(
      this.#topics.checkpoint,
      encodeCheckpointWord({ guide: this.#id, epoch, checkpoint }),
    );
  }

  publishState(state: Uint8Array, expirySec: number): void {
    this.#session?.publish(this.#topics.state, state, { retain: true, expirySec });
  }

  write(bytes: Uint8Array): void {
    if (this.#session) this.#voice.write(bytes);
  }

  async close(): Promise<void> {
    if (this.#isEnded) return;
    this.#isEnded = true;
    this.#opening?.reject(closedEarly(this.label));
    this.#session = null;
    this.#running.unsubscribe();
    this.#tell({ kind: 'ended' });
    this.state$.complete();
    this.bytes$.complete();
  }
}
