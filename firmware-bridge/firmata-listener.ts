/** The Firmata library on a link that is already open: what it hears and says, and its handshake. */
import { EventEmitter } from 'node:events';
import firmataIo, { type Firmata, type FirmataTransport } from 'firmata-io';
import type { SleeveLink } from './links/link.ts';
import { FIRMATA } from './wire/index.ts';

export interface FirmataListener {
  readonly io: Firmata;
  /** Hands the library one whole message. Whatever it makes of it, this does not throw. */
  hear(message: Uint8Array): void;
  close(): void;
}

/** Our own messages (user commands of Firmata), which the library is not to hear. */
const isOurs = (message: Uint8Array): boolean =>
  message[0] === 0xf0 && message[1]! >= 0x01 && message[1]! <= 0x0f;

/**
 * Makes a library object that speaks through `link` and begins its handshake. Calls `onReady` once the sleeve has told
 * its version, name, pins and analog channels.
 */
export function createFirmataListener(link: SleeveLink, onReady: (io: Firmata) => void): FirmataListener {
  const transport = Object.assign(new EventEmitter(), {
    write(bytes: Uint8Array, done?: () => void) {
      link.write(bytes);
      done?.();
    },
  }) satisfies FirmataTransport;
  const io = new firmataIo.Firmata(transport);
  // The library would wait 5 s for a chip to speak first; ours is asked at once.
  clearTimeout(io.reportVersionTimeoutId);
  io.once('ready', () => onReady(io));
  link.write(Uint8Array.of(FIRMATA.protocolVersion));
  link.write(Uint8Array.of(0xf0, FIRMATA.firmware, 0xf7));
  return {
    io,
    hear(message) {
      if (isOurs(message)) return;
      try {
        transport.emit('data', message);
      } catch {
        // A broken answer, such as of a pin that is not there; the library is over it with the next message.
      }
    },
    close() {
      io.removeAllListeners();
      transport.removeAllListeners();
    },
  };
}
