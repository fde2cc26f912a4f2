/** The Firmata library on a link that is already open: what it receives and sends, and its handshake. */
import { EventEmitter } from 'node:events';
import firmataIo, { type Firmata, type FirmataTransport } from 'firmata-io';
import type { SleeveLink } from './links/link.ts';
import { FIRMATA } from './wire/index.ts';

export interface FirmataListener {
  readonly io: Firmata;
  /** Passes one complete message to the library. Does not throw, whatever the library does with it. */
  hear(message: Uint8Array): void;
  close(): void;
}

/** Our own messages (user commands of Firmata), which are not passed to the library. */
const isOurs = (message: Uint8Array): boolean =>
  message[0] === 0xf0 && message[1]! >= 0x01 && message[1]! <= 0x0f;

/**
 * Creates a library object that sends through `link` and starts its handshake. Calls `onReady` once the sleeve has reported
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
  // The library would wait 5 s for the chip to send first; here the chip is asked at once.
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
        // A wrong answer, for example about a pin that does not exist; the library recovers with the next message.
      }
    },
    close() {
      io.removeAllListeners();
      transport.removeAllListeners();
    },
  };
}
