/** A real sleeve on a serial port. Once it was open, it is opened again after each unplugging, without limit. */
import { once } from 'node:events';
import { statSync } from 'node:fs';
import {
  interval,
  Observable,
  ReplaySubject,
  retry,
  type SchedulerLike,
  Subject,
  Subscription,
  tap,
  throwError,
  timer,
} from 'rxjs';
import { SerialPort } from 'serialport';
import type { LinkState, SleeveLink } from './link.ts';
import { monotonic } from './monotonic.ts';
import { cannotOpen, lostReason } from './serial-errors.ts';

/** The part of the serial library's port class that is used; the library's mock has it too. */
export interface SerialPortLike {
  readonly isOpen: boolean;
  readonly writableLength: number;
  open(done: (error: Error | null) => void): void;
  close(done?: (error: Error | null) => void): void;
  write(bytes: Uint8Array): boolean;
  on(event: string, listener: (argument: never) => void): unknown;
}
export interface SerialPortClass {
  new (options: { path: string; baudRate: number; autoOpen: boolean; hupcl: boolean }): SerialPortLike;
  list(): Promise<{ path: string }[]>;
}

export interface SerialLinkOptions {
  /** Default 115200 (sleeve contract, section 2). */
  baudRate?: number;
  /** The serial library's port class; tests pass its mock. */
  portClass?: SerialPortClass;
}

/** With more unsent bytes than this nobody receives them; further ones are dropped, as with a pulled cable. */
const MAX_UNSENT_BYTES = 16 * 1024;
const FIRST_RETRY_MS = 250;
const LONGEST_RETRY_MS = 2000;
const DEVICE_CHECK_MS = 500;

/** @returns how long to wait before trying for the `attempt`th time (from 1), milliseconds. */
export const retryDelayMs = (attempt: number): number =>
  Math.min(LONGEST_RETRY_MS, FIRST_RETRY_MS * 2 ** Math.min(attempt - 1, 10));

/**
 * A link to the sleeve on serial port `path` (8N1). `open` throws a PlainError when the port is unknown, busy, not allowed
 * or no serial port.
 *
 * About resets: many boards reset their chip when the DTR line goes from idle to active, which the system does on opening.
 * The port is therefore closed without dropping DTR (`hupcl: false`), so that only the first opening after plugging in
 * can reset the chip; that one the host cannot prevent.
 */
export function createSerialLink(
  path: string,
  options: SerialLinkOptions = {},
  scheduler: SchedulerLike = monotonic,
): SleeveLink {
  const { baudRate = 115_200, portClass = SerialPort as unknown as SerialPortClass } = options;
  const bytes$ = new Subject<Uint8Array>();
  const state$ = new ReplaySubject<LinkState>(1);
  let current: SerialPortLike | null = null;
  let running: Subscription | null = null;
  let lastReason: string | null = null;
  let ended = false;
  state$.next({ kind: 'opening' });

  function onOpen(port: SerialPortLike): void {
    current = port;
    lastReason = null;
    port.on('data', (chunk: Uint8Array) => bytes$.next(chunk));
    state$.next({ kind: 'open' });
  }

  function onLost(error: unknown): void {
    current = null;
    const reason = lostReason(path, error);
    if (reason !== lastReason) state$.next({ kind: 'lost', reason });
    lastReason = reason;
  }

  return {
    label: path,
    bytes$: bytes$.asObservable(),
    state$: state$.asObservable(),
    open() {
      if ((running && !running.closed) || ended) return Promise.resolve();
      return new Promise((resolve, reject) => {
        let wasOpen = false;
        running = connection(path, baudRate, portClass, scheduler)
          .pipe(
            tap({
              next(port) {
                onOpen(port);
                wasOpen = true;
                resolve();
              },
              error: (error) => wasOpen && onLost(error),
            }),
            retry({
              resetOnSuccess: true,
              delay: (error, attempt) =>
                wasOpen ? timer(retryDelayMs(attempt), scheduler) : throwError(() => error),
            }),
          )
          .subscribe({
            error: async (error) => reject(cannotOpen(path, error, await listPorts(portClass))),
          });
      });
    },
    write(bytes) {
      if (current?.isOpen && current.writableLength <= MAX_UNSENT_BYTES) current.write(bytes);
    },
    async close() {
      if (ended) return;
      ended = true;
      const closed = current?.isOpen ? once(current as unknown as NodeJS.EventEmitter, 'close') : null;
      running?.unsubscribe();
      current = null;
      await closed;
      state$.next({ kind: 'ended' });
      state$.complete();
      bytes$.complete();
    },
  };
}

/** Opens the port once: emits it when open, fails when it cannot be opened or is gone; closes it on unsubscribing. */
function connection(
  path: string,
  baudRate: number,
  portClass: SerialPortClass,
  scheduler: SchedulerLike,
): Observable<SerialPortLike> {
  return new Observable((subscriber) => {
    const port = new portClass({ path, baudRate, autoOpen: false, hupcl: false });
    port.on('error', (error: Error) => subscriber.error(error));
    port.on('close', (error: Error | null) => subscriber.error(error ?? UNPLUGGED));
    // Some systems report a device that went away as the end of the stream.
    port.on('end', () => subscriber.error(UNPLUGGED));
    port.open((error) => {
      if (error) return subscriber.error(error);
      if (subscriber.closed) return port.close();
      subscriber.add(whenGone(path, scheduler, () => subscriber.error(UNPLUGGED)));
      subscriber.next(port);
    });
    return () => {
      if (port.isOpen) port.close(() => {});
    };
  });
}

const UNPLUGGED = { disconnected: true };

/**
 * Calls `gone` when the device's file is missing or has been replaced. Needed because the serial library, after a hang-up, reads zero
 * bytes and tries again at once, without end.
 */
function whenGone(path: string, scheduler: SchedulerLike, gone: () => void): Subscription {
  const before = deviceFile(path);
  // Windows has no such files.
  return before === null
    ? Subscription.EMPTY
    : interval(DEVICE_CHECK_MS, scheduler).subscribe(() => {
        if (deviceFile(path) !== before) gone();
      });
}

function deviceFile(path: string): string | null {
  const file = statSync(path, { throwIfNoEntry: false });
  return file ? `${file.dev}:${file.ino}:${file.rdev}` : null;
}

/** @returns paths of the existing ports; null if the system cannot list them (on Linux without udevadm). */
async function listPorts(portClass: SerialPortClass): Promise<string[] | null> {
  try {
    return (await portClass.list()).map((port) => port.path);
  } catch {
    return null;
  }
}
