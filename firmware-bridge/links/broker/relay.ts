/**
 * A relay at the cot: sends one sleeve's bytes to a broker, and plays light and sound that come back. It stores the last eight hours, so that a broker or
 * a guide that was away can get all bytes in order; and it ends guidance by itself when the guide falls silent.
 */
import { interval, type SchedulerLike, Subscription, timer } from 'rxjs';
import type { PlainError } from '../../../src/base/errors.ts';
import type { LinkState } from '../link.ts';
import { monotonic } from '../monotonic.ts';
import { type BrokerMessage, type BrokerSession, lastingSession } from './broker-session.ts';
import { type ByteLog, openByteLog } from './byte-log.ts';
import { encodeRelayWord, type RelayWord } from './claim.ts';
import { Claimant } from './claimant.ts';
import { decodeGuideFrame } from './frames.ts';
import { Guidance } from './guidance.ts';
import { GuideSeeker } from './guide-seeker.ts';
import type { Relay, RelayOptions } from './relay-kind.ts';
import { type SleeveTopics, sleeveTopics } from './topics.ts';
import { Uplink } from './uplink.ts';

const BEAT_MS = 500;
const SYNC_MS = 1000;
const SEEK_MS = 250;
/** Bytes are collected for this time before they are stored and sent. */
const GATHER_MS = 100;
/** Without bytes for this long no guide is asked for: taking the sleeve up would keep those waiting that send. */
const SENDS_MS = 30_000;
/** A guide that is silent for this long no longer limits the speed of sending. */
const GUIDE_GONE_MS = 3000;
const CLOSE_LIMIT_MS = 2000;
/** After this time a request was repeated, so the broker discards it. */
const WANTED_EXPIRES_SEC = 2;

/** @throws PlainError relay-folder */
export function createRelay(options: RelayOptions, scheduler: SchedulerLike = monotonic): Relay {
  return new SleeveRelay(options, scheduler);
}

class SleeveRelay implements Relay {
  readonly #options: RelayOptions;
  readonly #scheduler: SchedulerLike;
  readonly #run: string;
  readonly #topics: SleeveTopics;
  readonly #log: ByteLog;
  readonly #uplink: Uplink;
  readonly #guidance: Guidance;
  readonly #claimant: Claimant;
  readonly #seeker: GuideSeeker;
  readonly #everything = new Subscription();
  readonly #connection: Subscription;
  #gathered: Uint8Array[] = [];
  #bytesAtMs = Number.NEGATIVE_INFINITY;
  #gathering = Subscription.EMPTY;
  #session: BrokerSession | null = null;
  #linkState: LinkState = { kind: 'open' };
  #said: string | null = null;
  #saidOfDisk: string | null = null;

  constructor(options: RelayOptions, scheduler: SchedulerLike) {
    this.#options = options;
    this.#scheduler = scheduler;
    const { link, identity, place, folder, newId, keepBytes } = options;
    this.#run = newId();
    this.#topics = sleeveTopics(place, identity.sleeveNumber);
    this.#log =
      options.log ?? openByteLog(folder, { newStream: newId, ...(keepBytes !== undefined && { keepBytes }) });
    this.#uplink = new Uplink(this.#log, this.#run, () => ({
      nowMs: scheduler.now(),
      guide: this.#guidance.guide,
      isThere: this.#linkState.kind === 'open',
    }));
    this.#seeker = new GuideSeeker(folder, (word) =>
      this.#session?.publish(this.#topics.wanted, word, { expirySec: WANTED_EXPIRES_SEC }),
    );
    this.#guidance = new Guidance((bytes) => link.write(bytes), this.#run, scheduler, this.#seeker.epoch);
    this.#claimant = new Claimant(
      {
        mine: { stream: this.#log.stream, run: this.#run },
        say: (says) => this.#publishWord(says),
        hold: () => this.#hold(),
        giveWay: () => this.#giveWay(),
        askAgain: () => this.#uplink.skipToNow(),
      },
      scheduler,
    );
    for (const bytes of options.heard ?? []) this.#gather(bytes);
    this.#everything.add(link.bytes$.subscribe((bytes) => this.#gather(bytes)));
    this.#everything.add(link.state$.subscribe((state) => this.#takeLink(state)));
    this.#everything.add(interval(BEAT_MS, scheduler).subscribe(() => this.#beat()));
    this.#everything.add(interval(SEEK_MS, scheduler).subscribe(() => this.#seek()));
    this.#everything.add(interval(SYNC_MS, scheduler).subscribe(() => this.#log.sync()));
    this.#connection = this.#connect();
  }

  #connect(): Subscription {
    const { address, place, identity } = this.#options;
    return lastingSession(
      {
        address,
        options: () => ({
          clientId: `ebbline-relay-${place.site}-${place.room}-${identity.sleeveNumber}-${this.#log.stream}`,
          will: { topic: this.#topics.relay, payload: encodeRelayWord(this.#word('gone')) },
          // Old messages to the sleeve are useless, and bytes are sent again from the log.
          keepSec: 0,
          topics: [this.#topics.toSleeve, this.#topics.relay, this.#topics.checkpoint],
        }),
        begin: (session) => this.#begin(session),
        halt: (error) => this.#halt(error),
      },
      this.#scheduler,
    );
  }

  #begin(session: BrokerSession): void {
    this.#session = session;
    this.#seeker.begin(this.#scheduler.now());
    this.#say(
      `Sleeve ${this.#options.identity.sleeveNumber} is passed on to ${this.#options.address.label}.`,
    );
    this.#everything.add(session.messages$.subscribe((message) => this.#hear(message)));
    this.#claimant.begin();
  }

  #halt(error: PlainError): void {
    this.#session = null;
    this.#claimant.halt();
    this.#uplink.halt();
    this.#say(`${error.text} Meanwhile the sleeve's bytes are kept on this computer.`);
  }

  #hold(): void {
    const session = this.#session;
    if (session)
      this.#uplink.begin((frame, done) => session.publish(this.#topics.fromSleeve, frame, {}, done));
  }

  #giveWay(): void {
    this.#uplink.halt();
    this.#guidance.end();
    const { identity, place, link } = this.#options;
    this.#say(
      `Another relay already passes on a sleeve of the number ${identity.sleeveNumber} in room "${place.room}" of site "${place.site}"; the one on ${link.label} stays dark. Give one of the two sleeves another number.`,
    );
  }

  #hear({ topic, payload, isRetained }: BrokerMessage): void {
    if (topic === this.#topics.relay) {
      this.#claimant.hear(payload, isRetained);
      return;
    }
    if (!this.#claimant.isHeld) return;
    if (topic === this.#topics.checkpoint) {
      this.#seeker.hearCheckpoint(payload, this.#guidance.guide?.id ?? null);
      return;
    }
    const frame = decodeGuideFrame(payload);
    if (!frame || !this.#guidance.take(frame)) return;
    this.#seeker.hearGuide(this.#guidance.epoch);
    this.#uplink.hearWants(frame.wants, frame.isAsking);
  }

  #beat(): void {
    this.#guidance.beat();
    if (this.#scheduler.now() - this.#guidance.wordAtMs > GUIDE_GONE_MS) this.#uplink.guideIsGone();
    this.#uplink.beat(BEAT_MS);
    const { trouble } = this.#log;
    if (trouble !== null && this.#saidOfDisk === null) this.#options.say(trouble);
    if (trouble === null && this.#saidOfDisk !== null) this.#options.say('The disk takes bytes again.');
    this.#saidOfDisk = trouble;
  }

  #seek(): void {
    const nowMs = this.#scheduler.now();
    const sends = this.#linkState.kind === 'open' && nowMs - this.#bytesAtMs < SENDS_MS;
    if (this.#session && this.#claimant.isHeld && sends) this.#seeker.beat(this.#guidance.wordAtMs, nowMs);
  }

  #gather(bytes: Uint8Array): void {
    this.#bytesAtMs = this.#scheduler.now();
    // A copy: the sender may use its buffer again.
    this.#gathered.push(Uint8Array.from(bytes));
    if (this.#gathering.closed)
      this.#gathering = timer(GATHER_MS, this.#scheduler).subscribe(() => this.#flush());
  }

  #flush(): void {
    this.#gathering.unsubscribe();
    if (this.#gathered.length === 0) return;
    const bytes = Buffer.concat(this.#gathered);
    this.#gathered = [];
    this.#uplink.take(bytes);
  }

  #takeLink(state: LinkState): void {
    this.#linkState = state;
    this.#claimant.sayAgain();
  }

  #word(says: RelayWord['says']): RelayWord {
    const { contractVersion, firmwareVersion, sleeveNumber } = this.#options.identity;
    return {
      stream: this.#log.stream,
      run: this.#run,
      says,
      isNew: this.#claimant.isNew,
      sleeveNumber,
      contractVersion,
      firmwareVersion: firmwareVersion.join('.'),
      trouble: this.#linkState.kind === 'lost' ? this.#linkState.reason : null,
    };
  }

  #publishWord(says: RelayWord['says'], done?: () => void): void {
    const word = encodeRelayWord(this.#word(says));
    this.#session?.publish(this.#topics.relay, word, { retain: says !== 'asks' }, done);
  }

  #say(text: string): void {
    if (text !== this.#said) this.#options.say(text);
    this.#said = text;
  }

  async close(): Promise<void> {
    if (this.#everything.closed) return;
    this.#flush();
    this.#everything.unsubscribe();
    this.#claimant.halt();
    this.#guidance.end();
    if (this.#session && this.#claimant.isHeld)
      await new Promise<void>((resolve) => {
        const limit = timer(CLOSE_LIMIT_MS, this.#scheduler).subscribe(() => resolve());
        this.#publishWord('gone', () => {
          limit.unsubscribe();
          resolve();
        });
      });
    this.#connection.unsubscribe();
    this.#seeker.close();
    this.#log.close();
  }
}
