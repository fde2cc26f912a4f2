/** Two feeds as one sleeve sends them: the first is ended by the button. */
import { encodeMessage, MESSAGES, SAMPLE_FLAGS } from '../../firmware-bridge/wire/index.ts';
import { joined, scanAll } from './wire.ts';

/** Samples of the last seconds, in which the button is held: it ends a feed after two. */
const HELD = 4 * 80;

/** The feeds one after another, as one sleeve sends them; the button is held at the end of the first. */
export function oneAfterAnother(feeds: readonly Uint8Array[]): Uint8Array {
  const all = feeds.map((feed) => scanAll(feed).samples);
  const samples = all.flatMap((feed, i) =>
    feed.map((sample, k) => {
      const isHeld = i === 0 && k >= feed.length - HELD;
      return { ...sample, flags: sample.flags | (isHeld ? SAMPLE_FLAGS.buttonDown : 0) };
    }),
  );
  return joined(
    samples.map((sample, i) =>
      encodeMessage(MESSAGES.SAMPLE, { ...sample, sequence: i % 2 ** 16, timeMicros: i * 12_500 }),
    ),
  );
}
