/** How a relay comes by a guide: it asks while none is heard, and keeps what the last one noted for the next. */
import { type GuideBook, openGuideBook } from './guide-book.ts';
import { ASK_AFTER_MS, ASK_EVERY_MS, decodeGuideNote, encodeWanted } from './wanted.ts';

export class GuideSeeker {
  readonly #book: GuideBook;
  readonly #ask: (word: Uint8Array) => void;
  #asked: number;
  #askedAtMs = Number.NEGATIVE_INFINITY;
  #begunAtMs = 0;

  /** @param folder  that of the sleeve's bytes @param ask  publishes a question */
  constructor(folder: string, ask: (word: Uint8Array) => void) {
    this.#book = openGuideBook(folder);
    this.#ask = ask;
    this.#asked = this.#book.epoch;
  }

  get epoch(): number {
    return this.#book.epoch;
  }

  /** A connection is there: whoever guided before comes back first. */
  begin(nowMs: number): void {
    this.#begunAtMs = nowMs;
  }

  /** @param epoch  the highest that is obeyed */
  hearGuide(epoch: number): void {
    this.#book.obey(epoch);
  }

  /** @param guide  who is listened to */
  hearNote(payload: Uint8Array, guide: string | null): void {
    const heard = decodeGuideNote(payload);
    if (heard && heard.guide === guide && heard.epoch >= this.#book.epoch) this.#book.keep(heard.note);
  }

  beat(wordAtMs: number, nowMs: number): void {
    if (nowMs - Math.max(wordAtMs, this.#begunAtMs) < ASK_AFTER_MS) return;
    if (nowMs - this.#askedAtMs < ASK_EVERY_MS) return;
    this.#askedAtMs = nowMs;
    this.#asked = Math.max(this.#asked, this.#book.epoch) + 1;
    this.#ask(encodeWanted({ epoch: this.#asked, note: this.#book.note }));
  }
}
