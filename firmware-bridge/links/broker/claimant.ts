/** The claim of one relay on its sleeve, across its connections. */
import { type SchedulerLike, Subscription, timer } from 'rxjs';
import {
  ASK_AGAIN_MS,
  ASK_MS,
  type Claim,
  decodeRelayWord,
  hearOther,
  NEW_MS,
  type RelayWord,
} from './claim.ts';

export interface Claiming {
  mine: { stream: string; run: string };
  /** Publishes a message of this relay. */
  say(says: RelayWord['says']): void;
  /** This relay has the sleeve now. */
  hold(): void;
  /** Another relay has it. */
  giveWay(): void;
  /** Ask again: the other may be gone. */
  askAgain(): void;
}

export class Claimant {
  #claim: Claim = 'asking';
  #heldSinceMs = 0;
  #waiting = Subscription.EMPTY;
  readonly #around: Claiming;
  readonly #scheduler: SchedulerLike;

  constructor(around: Claiming, scheduler: SchedulerLike) {
    this.#around = around;
    this.#scheduler = scheduler;
  }

  get isNew(): boolean {
    return this.#scheduler.now() - this.#heldSinceMs < NEW_MS;
  }

  get isHeld(): boolean {
    return this.#claim === 'held';
  }

  /** The connection is up. */
  begin(): void {
    if (this.isHeld) this.#hold();
    else this.#ask();
  }

  /** The connection is lost. */
  halt(): void {
    this.#waiting.unsubscribe();
  }

  sayAgain(): void {
    if (this.isHeld) this.#around.say('here');
  }

  hear(payload: Uint8Array, isRetained: boolean): void {
    const other = decodeRelayWord(payload);
    if (!other) return;
    const before = this.#claim;
    const { claim, sayHere } = hearOther(
      before,
      { ...this.#around.mine, isNew: this.isNew },
      other,
      isRetained,
    );
    this.#claim = claim;
    if (sayHere) this.#around.say('here');
    if (claim === 'given-way' && before !== 'given-way') this.#giveWay();
  }

  #ask(): void {
    this.#claim = 'asking';
    this.#around.say('asks');
    this.#after(ASK_MS, () => this.#hold());
  }

  #hold(): void {
    if (!this.isHeld) this.#heldSinceMs = this.#scheduler.now();
    this.#claim = 'held';
    this.#around.say('here');
    this.#around.hold();
  }

  #giveWay(): void {
    this.#around.giveWay();
    this.#after(ASK_AGAIN_MS, () => {
      this.#around.askAgain();
      this.#ask();
    });
  }

  #after(ms: number, act: () => void): void {
    this.#waiting.unsubscribe();
    this.#waiting = timer(ms, this.#scheduler).subscribe(act);
  }
}
