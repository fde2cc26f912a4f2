/** The part of firmata-io 2.3 that is used here; the library has no types of its own. */
declare module 'firmata-io' {
  import type { EventEmitter } from 'node:events';

  export interface FirmataTransport extends EventEmitter {
    write(bytes: Uint8Array, done?: () => void): void;
  }

  export class Firmata extends EventEmitter {
    constructor(transport: FirmataTransport, options?: { reportVersionTimeout?: number });
    readonly transport: FirmataTransport;
    readonly MODES: { INPUT: number; OUTPUT: number; PWM: number; PULLUP: number };
    /** Timer after which the library asks for the version on its own. */
    readonly reportVersionTimeoutId: NodeJS.Timeout;
    pinMode(pin: number, mode: number): void;
    reportDigitalPin(pin: number, on: 0 | 1): void;
  }

  const bindTransport: { Firmata: typeof Firmata };
  export default bindTransport;
}
