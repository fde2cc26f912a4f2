/** A synchronous connection to PostgreSQL through a thread (database-thread.mjs), with a time limit. */
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { MessageChannel, receiveMessageOnPort, Worker } from 'node:worker_threads';
import { clientOptions, type DatabaseAddress } from './address.ts';
import { away, type Fault, serverFault } from './faults.ts';

export interface Sent {
  sql: string;
  /** Name of the prepared statement on the server; only with values. */
  name?: string;
  values?: unknown[];
}
export interface Answer {
  rows: unknown[];
  changes: number;
}
type Told = ({ id: number } & Answer) | { id: number; fault: Fault };

const [ANSWERED, STATE] = [0, 1];
const [AWAY, COMING, THERE] = [0, 1, 2];
/** Time limit for connecting, outside of recording. */
const OPENING_MS = 15_000;

/** From source it is beside this file; when built, beside the program. */
const THREAD = ['./database-thread.mjs', '../database-thread.mjs', './../../database-thread.mjs']
  .map((path) => fileURLToPath(new URL(path, import.meta.url)))
  .find(existsSync);

export class ServerConnection {
  readonly #flags = new Int32Array(new SharedArrayBuffer(8));
  readonly #thread: Worker;
  readonly #port;
  #id = 0;
  /** Number of the request while connecting. */
  #coming = 0;
  #fault: Fault | null = null;
  /** How long one call may take. */
  #waitMs = 60_000;
  /** False during recording: then calls do not wait for a connection. */
  #isPatient = true;

  /** @param start  statements sent first on each new connection @throws PlainError database-refused, database-away … */
  constructor(
    private readonly address: DatabaseAddress,
    start: Sent[],
  ) {
    const { port1, port2 } = new MessageChannel();
    this.#port = port1;
    this.#thread = new Worker(THREAD!, {
      workerData: {
        port: port2,
        shared: this.#flags.buffer,
        start,
        client: {
          ...clientOptions(address),
          keepAlive: true,
          connectionTimeoutMillis: OPENING_MS,
        },
      },
      transferList: [port2],
    });
    // The thread does not keep the program running.
    this.#thread.unref();
    port1.unref();
    this.#connect();
    try {
      this.#awaitConnection(OPENING_MS);
    } catch (error) {
      this.close();
      throw error;
    }
  }

  /** Reconnects if the connection is lost; waits at most as long as a call may take. @throws PlainError database-away … */
  ready(): void {
    if (this.#state === THERE) return;
    if (this.#isPatient) {
      if (this.#state === AWAY) this.#connect();
      this.#awaitConnection(OPENING_MS);
      return;
    }
    this.#read(0);
    const why = this.#whyAway();
    if (this.#state === AWAY) this.#connect();
    throw why;
  }

  get isThere(): boolean {
    return this.#state === THERE;
  }

  /** From now on calls take at most this long, and fail at once without a connection. */
  hurry(waitMs: number): void {
    this.#isPatient = false;
    this.#waitMs = waitMs;
  }

  /** @returns the answer of the last one @throws PlainError of the first that failed; then the others of a transaction have no effect */
  ask(statements: Sent[]): Answer {
    if (this.#state !== THERE) throw this.#whyAway();
    const told = this.#exchange({ statements }, this.#waitMs);
    if (told === null) {
      // It is not known whether it was done, so this connection is not used any more.
      Atomics.store(this.#flags, STATE, AWAY);
      this.#fault = null;
      this.#connect();
      throw away(this.address.label);
    }
    if ('fault' in told) throw this.#faultOf(told.fault);
    return told;
  }

  close(): void {
    Atomics.store(this.#flags, STATE, AWAY);
    this.#port.close();
    this.#thread.postMessage('end');
  }

  get #state(): number {
    return Atomics.load(this.#flags, STATE);
  }

  #connect(): void {
    Atomics.store(this.#flags, STATE, COMING);
    this.#coming = ++this.#id;
    this.#port.postMessage({ id: this.#id, connect: true });
  }

  #awaitConnection(waitMs: number): void {
    const told = this.#await(this.#coming, waitMs);
    if (told === null) throw this.#whyAway();
    if (!('fault' in told)) return;
    this.#fault = told.fault;
    throw this.#faultOf(told.fault);
  }

  #whyAway(): Error {
    return this.#fault ? this.#faultOf(this.#fault) : away(this.address.label);
  }

  readonly #faultOf = (fault: Fault): Error => serverFault(this.address.label, fault);

  #exchange(message: object, waitMs: number): Told | null {
    const id = ++this.#id;
    this.#port.postMessage({ id, ...message });
    return this.#await(id, waitMs);
  }

  #await(id: number, waitMs: number): Told | null {
    const untilMs = performance.now() + waitMs;
    for (;;) {
      const seen = Atomics.load(this.#flags, ANSWERED);
      const told = this.#read(id);
      if (told) return told;
      const leftMs = untilMs - performance.now();
      if (leftMs <= 0) return null;
      Atomics.wait(this.#flags, ANSWERED, seen, leftMs);
    }
  }

  /** Answers that came too late are dropped. */
  #read(id: number): Told | null {
    for (let got = receiveMessageOnPort(this.#port); got; got = receiveMessageOnPort(this.#port)) {
      const told = got.message as Told;
      if (told.id === this.#coming) this.#fault = 'fault' in told ? told.fault : null;
      if (told.id === id) return told;
    }
    return null;
  }
}
