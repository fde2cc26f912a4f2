/**
 * Who from the home network may see the page: state in, state and answer out. Nothing here knows a clock, chance or a request.
 * Times are monotonic ms. All of it lives as long as the program; nothing is kept on disk.
 */
import { createHash } from 'node:crypto';
import type { Right } from './rights.ts';

/** A code that nobody used dies after this long. */
export const CODE_LIFE_MS = 10 * 60_000;
/** A device is let in for this long, then it needs a new code. */
export const DEVICE_LIFE_MS = 12 * 3_600_000;
/** Wrong codes until the one that stands is withdrawn, by whomever they were tried. */
export const TRIES_MAX = 5;
/** Requests a minute from one address that was not let in; a page that lost its right asks 60 times. */
export const STRANGER_REQUESTS_MAX = 240;
/** Addresses remembered in a minute; a home network has some 250. */
export const STRANGERS_MAX = 1024;
const MINUTE_MS = 60_000;

export interface SharedDevice {
  /** 1 for the first device let in. */
  number: number;
  sinceMs: number;
  right: Right;
  /** SHA-256 of the secret in its cookie, hex. */
  secretDigest: string;
}

export interface Sharing {
  invitation: { code: string; madeAtMs: number; right: Right } | null;
  wrongTries: number;
  devices: readonly SharedDevice[];
  devicesEver: number;
  /** Requests in this minute, by address. */
  strangers: { minute: number; requests: ReadonlyMap<string, number> };
}

export const SHARING_START: Sharing = {
  invitation: null,
  wrongTries: 0,
  devices: [],
  devicesEver: 0,
  strangers: { minute: Number.NEGATIVE_INFINITY, requests: new Map() },
};

/** Of digests, so that the time a comparison takes tells nothing about the secret. */
export const digestOf = (secret: string): string => createHash('sha256').update(secret).digest('hex');

/** A new code stands in the place of the one before. */
export const invite = (state: Sharing, code: string, nowMs: number, right: Right = 'help'): Sharing => ({
  ...state,
  invitation: { code, madeAtMs: nowMs, right },
  wrongTries: 0,
});

/** @returns the code that can still be used, or null */
export const openInvitation = ({ invitation }: Sharing, nowMs: number): Sharing['invitation'] =>
  invitation && nowMs - invitation.madeAtMs < CODE_LIFE_MS ? invitation : null;

export interface Admission {
  state: Sharing;
  /** Null when the device was not let in. */
  device: SharedDevice | null;
}

/** One try with a code. The right one is used up by it; after `TRIES_MAX` wrong ones it is withdrawn. */
export function admit(state: Sharing, code: string, secret: string, nowMs: number): Admission {
  const open = openInvitation(state, nowMs);
  if (open === null) return { state, device: null };
  if (digestOf(code) !== digestOf(open.code)) {
    const wrongTries = state.wrongTries + 1;
    const invitation = wrongTries < TRIES_MAX ? state.invitation : null;
    return { state: { ...state, wrongTries, invitation }, device: null };
  }
  const number = state.devicesEver + 1;
  const { right } = open;
  const device: SharedDevice = { number, sinceMs: nowMs, right, secretDigest: digestOf(secret) };
  const devices = [...state.devices, device];
  return { state: { ...state, invitation: null, devices, devicesEver: number }, device };
}

const isOld = (device: SharedDevice, nowMs: number): boolean => nowMs - device.sinceMs >= DEVICE_LIFE_MS;

/** @returns the device that carries this secret and is still let in, or null */
export function deviceWith(state: Sharing, secret: string, nowMs: number): SharedDevice | null {
  const digest = digestOf(secret);
  const device = state.devices.find(({ secretDigest }) => secretDigest === digest);
  return device && !isOld(device, nowMs) ? device : null;
}

/** Devices whose time is over leave. */
export function withoutOld(state: Sharing, nowMs: number): Sharing {
  const devices = state.devices.filter((device) => !isOld(device, nowMs));
  return devices.length === state.devices.length ? state : { ...state, devices };
}

/** @param number  the device to put out; left out: the code and every device */
export const withdraw = (state: Sharing, number?: number): Sharing =>
  number === undefined
    ? { ...state, invitation: null, devices: [] }
    : { ...state, devices: state.devices.filter((device) => device.number !== number) };

/** Counts a request from an address that is not let in: one that asks without end shuts nobody out but itself. @returns whether it is answered at all */
export function countStranger(
  state: Sharing,
  address: string,
  nowMs: number,
): { state: Sharing; heard: boolean } {
  const minute = Math.floor(nowMs / MINUTE_MS);
  const requests = new Map(state.strangers.minute === minute ? state.strangers.requests : []);
  const count = (requests.get(address) ?? 0) + 1;
  if (count > 1 || requests.size < STRANGERS_MAX) requests.set(address, count);
  const heard = requests.has(address) && count <= STRANGER_REQUESTS_MAX;
  return { state: { ...state, strangers: { minute, requests } }, heard };
}
