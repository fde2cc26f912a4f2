/** Which of a guide's messages reach the sleeve, by the relay's own clock. After the guide falls silent the relay ends guidance, and the sleeve shows "no guidance". */
import { type SchedulerLike, Subscription, timer } from 'rxjs';
import type { GuideFrame, Mark } from './frames.ts';
import { darkAtMs, type GuideWatch, isGuided, NO_GUIDE, takeWord } from './guide-watch.ts';
import { createPlayer, type Player } from './player.ts';

export class Guidance {
  #watch: GuideWatch = NO_GUIDE;
  #wasGuided = false;
  #darkening = Subscription.EMPTY;
  readonly #player: Player;
  readonly #run: string;
  readonly #scheduler: SchedulerLike;

  /** @param run  id of the relay's process @param epoch  the highest that was ever obeyed */
  constructor(write: (bytes: Uint8Array) => void, run: string, scheduler: SchedulerLike, epoch = 0) {
    this.#watch = { ...NO_GUIDE, epoch };
    this.#player = createPlayer(write);
    this.#run = run;
    this.#scheduler = scheduler;
  }

  /** The latest message of the guide that is obeyed. */
  get guide(): Mark | null {
    return this.#watch.guide;
  }

  /** The highest that was obeyed. */
  get epoch(): number {
    return this.#watch.epoch;
  }

  /** When it came, ms of the scheduler. */
  get wordAtMs(): number {
    return this.#watch.wordAtMs;
  }

  /** @returns whether it is new and from the guide that is obeyed */
  take(frame: GuideFrame): boolean {
    const nowMs = this.#scheduler.now();
    const { watch, verdict } = takeWord(this.#watch, frame, nowMs, this.#run);
    this.#watch = watch;
    if (verdict === 'other' || verdict === 'again') return false;
    if (verdict === 'play') {
      const said = this.#player.play(frame.bytes);
      if (said !== null) this.#watch = { ...this.#watch, guides: said };
    }
    this.#show();
    this.#darkening.unsubscribe();
    const atMs = darkAtMs(this.#watch);
    if (atMs !== null)
      this.#darkening = timer(Math.max(0, atMs - nowMs), this.#scheduler).subscribe(() => this.#show());
    return true;
  }

  /** To be called each half second: the relay itself sends heartbeats to the sleeve. */
  beat(): void {
    this.#wasGuided = isGuided(this.#watch, this.#scheduler.now());
    this.#player.beat(this.#wasGuided);
  }

  /** Nobody guides any more. */
  end(): void {
    this.#darkening.unsubscribe();
    this.#watch = { ...NO_GUIDE, epoch: this.#watch.epoch };
    this.beat();
  }

  /** Tells the sleeve at once when guidance begins or ends. */
  #show(): void {
    if (isGuided(this.#watch, this.#scheduler.now()) !== this.#wasGuided) this.beat();
  }
}
