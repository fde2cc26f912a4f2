/** How a relay gets a guide: it asks while it hears none, and stores the last one's checkpoint for the next. */
import { type GuideStore, openGuideStore } from './guide-store.ts';
import { ASK_AFTER_MS, ASK_EVERY_MS, decodeCheckpointWord, encodeWanted } from './wanted.ts';

export class GuideSeeker {
  readonly #book: GuideStore;
  readonly #ask: (word: Uint8Array) => void;
  #asked: number;
  #askedAtMs = Number.NEGATIVE_INFINITY;
  #begunAtMs = 0;

  /** @param folder  of the sleeve's bytes @param ask  publishes a request */
  constructor(folder: string, ask: (word: Uint8Array) => void) {
    this.#book = openGuideStore(folder);
    this.#ask = ask;
    this.#asked = this.#book.epoch;
  }

  get epoch(): number {
    return this.#book.epoch;
  }

  /** The connection is up: the former guide gets time to come back first. */
  begin(nowMs: number): void {
    this.#begunAtMs = nowMs;
  }

  /** @param epoch  the highest obeyed */
  hearGuide(epoch: number): void {
    this.#book.obey(epoch);
  }

  /** @param guide  id of the guide that is obeyed */
  hearCheckpoint(payload: Uint8Array, guide: string | null): void {
    const heard = decodeCheckpointWord(payload);
    if (heard && heard.guide === guide && heard.epoch >= this.#book.epoch) this.#book.keep(heard.checkpoint);
  }

  close(): void {
    this.#book.close();
  }

  beat(wordAtMs: number, nowMs: number): void {
    if (nowMs - Math.max(wordAtMs, this.#begunAtMs) < ASK_AFTER_MS) return;
    if (nowMs - this.#askedAtMs < ASK_EVERY_MS) return;
    this.#askedAtMs = nowMs;
    this.#asked = Math.max(this.#asked, this.#book.epoch) + 1;
    this.#ask(encodeWanted({ epoch: this.#asked, checkpoint: this.#book.checkpoint }));
  }
}
