/**
 * Sharing with the home network: holds the state, makes codes and secrets, and knows each device's open connections, to cut them when the device
 * is removed. What is allowed is decided in sharing.ts.
 */
import { randomBytes } from 'node:crypto';
import type { Socket } from 'node:net';
import type { HomeNetwork } from './home-network.ts';
import type { Right } from './rights.ts';
import {
  admit,
  CODE_LIFE_MS,
  countStranger,
  DEVICE_LIFE_MS,
  deviceWith,
  invite,
  openInvitation,
  SHARING_START,
  type SharedDevice,
  type Sharing,
  withdraw,
  withoutOld,
} from './sharing.ts';

/** 128 bits for a code that is valid for minutes and used once; 192 for the secret of a cookie. */
const CODE_BYTES = 16;
const SECRET_BYTES = 24;
const SWEEP_MS = 60_000;
export const COOKIE = 'ebbline-device';

export interface ShareDoorOptions {
  network: HomeNetwork;
  /** Called with a plain text when a device was admitted or a code was withdrawn after wrong tries. */
  onNews?: (line: string) => void;
  /** Monotonic ms. */
  nowMs?: () => number;
}

export class ShareDoor {
  readonly network: HomeNetwork;
  /** Known once the server listens. */
  port = 0;
  #state: Sharing = SHARING_START;
  readonly #sockets = new Map<number, Set<Socket>>();
  readonly #nowMs: () => number;
  readonly #onNews: (line: string) => void;
  readonly #sweep: NodeJS.Timeout;

  constructor({ network, onNews = () => {}, nowMs = () => performance.now() }: ShareDoorOptions) {
    this.network = network;
    this.#onNews = onNews;
    this.#nowMs = nowMs;
    this.#sweep = setInterval(() => this.#take(withoutOld(this.#state, nowMs())), SWEEP_MS).unref();
  }

  /** @returns the address with a fresh code, for one device. The code is after #, so that browsers do not send it automatically. */
  invite(right: Right = 'help'): string {
    this.#take(invite(this.#state, randomBytes(CODE_BYTES).toString('base64url'), this.#nowMs(), right));
    return this.invitation!.address;
  }

  get invitation(): { address: string; leftSec: number; right: Right } | null {
    const open = openInvitation(this.#state, this.#nowMs());
    if (!open) return null;
    const leftSec = Math.ceil((open.madeAtMs + CODE_LIFE_MS - this.#nowMs()) / 1000);
    return {
      address: `http://${this.network.address}:${this.port}/join#${open.code}`,
      leftSec,
      right: open.right,
    };
  }

  get devices(): { number: number; sinceSec: number; right: Right }[] {
    return this.#state.devices.map(({ number, sinceMs, right }) => ({
      number,
      right,
      sinceSec: Math.floor((this.#nowMs() - sinceMs) / 1000),
    }));
  }

  /** @returns the cookie of a newly admitted device, or null */
  admit(code: string): string | null {
    const secret = randomBytes(SECRET_BYTES).toString('base64url');
    const stood = openInvitation(this.#state, this.#nowMs()) !== null;
    const { state, device } = admit(this.#state, code, secret, this.#nowMs());
    this.#take(state);
    if (device) this.#onNews(`Device ${device.number} was let in; its code is used up.`);
    else if (stood && state.invitation === null) {
      this.#onNews('Wrong codes were tried; the code was withdrawn.');
    }
    if (!device) return null;
    return `${COOKIE}=${secret}; HttpOnly; SameSite=Strict; Path=/; Max-Age=${DEVICE_LIFE_MS / 1000}`;
  }

  deviceOf(cookieHeader: string | undefined): SharedDevice | null {
    const pairs = (cookieHeader ?? '').split(';').map((pair) => pair.trim());
    const own = pairs.find((pair) => pair.startsWith(`${COOKIE}=`));
    return own ? deviceWith(this.#state, own.slice(COOKIE.length + 1), this.#nowMs()) : null;
  }

  /** @returns false when too many requests came from this address without admission. */
  hearsStranger(address: string): boolean {
    const { state, heard } = countStranger(this.#state, address, this.#nowMs());
    this.#state = state;
    return heard;
  }

  /** Remembers a connection of a device, to cut it when the device is removed. */
  keep(device: SharedDevice, socket: Socket): void {
    const sockets = this.#sockets.get(device.number) ?? new Set();
    this.#sockets.set(device.number, sockets);
    if (sockets.has(socket)) return;
    sockets.add(socket);
    socket.once('close', () => sockets.delete(socket));
  }

  /** Removes one device; without a number the code and all devices. */
  withdraw(number?: number): void {
    this.#take(withdraw(this.#state, number));
  }

  close(): void {
    clearInterval(this.#sweep);
  }

  #take(next: Sharing): void {
    this.#state = next;
    const left = new Set(next.devices.map(({ number }) => number));
    for (const [number, sockets] of this.#sockets) {
      if (left.has(number)) continue;
      for (const socket of sockets) socket.destroy();
      this.#sockets.delete(number);
    }
  }
}
