/**
 * Sends a guide's bytes to the sleeve: only whole messages, since the relay's own heartbeats go between them. The guide's heartbeats are
 * not passed on; they set whether guidance is on. The light's last color is remembered, since a sleeve that showed "no guidance" has lost it.
 */
import {
  createHostParser,
  encodeMessage,
  frameFirmata,
  MESSAGES,
  readHostMessage,
} from '../../wire/index.ts';

export interface Player {
  /** @returns what the last heartbeat among them said; null if there was none */
  play(bytes: Uint8Array): boolean | null;
  /** The relay's own heartbeat; the first one with guidance on also sends the light again. */
  beat(guidanceOn: boolean): void;
}

export function createPlayer(write: (bytes: Uint8Array) => void): Player {
  const parser = createHostParser();
  const light = new Map<number, Uint8Array>();
  let wasOn = false;
  return {
    play(bytes) {
      let said: boolean | null = null;
      frameFirmata(parser, bytes, (whole) => {
        const message = readHostMessage(whole);
        if (message.kind === 'heartbeat') {
          said = message.guidanceOn !== 0;
          return;
        }
        if (message.kind === 'analog') light.set(message.pin, Uint8Array.from(whole));
        write(Uint8Array.from(whole));
      });
      return said;
    },
    beat(guidanceOn) {
      write(encodeMessage(MESSAGES.HEARTBEAT, { guidanceOn: guidanceOn ? 1 : 0 }));
      if (guidanceOn && !wasOn) for (const message of light.values()) write(message);
      wasOn = guidanceOn;
    },
  };
}
