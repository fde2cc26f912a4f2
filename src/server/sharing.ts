/**
 * Which devices of the home network may see the page: state in, state and answer out. It has no clock, randomness or request.
 * Times are monotonic ms. The state lives as long as the program; nothing is stored on disk.
 */
import { createHash } from 'node:crypto';
import type { Right } from './rights.ts';

/** An unused code expires after this time. */
export const CODE_LIFE_MS = 10 * 60_000;
/** Admission of a device lasts this long; then it needs a new code. */
export const DEVICE_LIFE_MS = 12 * 3_600_000;
/** After this many wrong codes, from any devices, the present code is withdrawn. */
export const TRIES_MAX = 5;
/** Most requests a minute from one address without admission; a page that lost its right makes 60. */
export const STRANGER_REQUESTS_MAX = 240;
/** Addresses remembered in a minute; a home network has some 250. */
export const STRANGERS_MAX = 1024;
const MINUTE_MS = 60_000;

export interface SharedDevice {
  /** 1 for the first admitted device. */
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
const digestOf = (secret: string): string => createHash('sha256').update(secret).digest('hex');

/** A new code replaces the old one. */
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
  /** Null when the device was not admitted. */
  device: SharedDevice | null;
}

/** One try with a code. The right code is used up; after `TRIES_MAX` wrong ones it is withdrawn. */
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

/** @returns the device with this secret, if it is still admitted, or null */
export function deviceWith(state: Sharing, secret: string, nowMs: number): SharedDevice | null {
  const digest = digestOf(secret);
  const device = state.devices.find(({ secretDigest }) => secretDigest === digest);
  return device && !isOld(device, nowMs) ? device : null;
}

/** Removes devices whose time is over. */
export function withoutOld(state: Sharing, nowMs: number): Sharing {
  const devices = state.devices.filter((device) => !isOld(device, nowMs));
  return devices.length === state.devices.length ? state : { ...state, devices };
}

/** @param number  the device to remove; absent: the code and all devices */
export const withdraw = (state: Sharing, number?: number): Sharing =>
  number === undefined
    ? { ...state, invitation: null, devices: [] }
    : { ...state, devices: state.devices.filter((device) => device.number !== number) };

/** Counts a request from an address that is not let in: an address that asks too often blocks only itself. @returns whether it is answered */
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
