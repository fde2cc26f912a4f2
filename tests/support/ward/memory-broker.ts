/**
 * A broker in memory with clients of the shape of the package `mqtt`, which a test puts in its place (`vi.mock`): topics with `+`, shared
 * subscriptions, retained messages and last wills. Messages come in order, after the present turn of the program. A test may cut off or hold clients.
 */
import { EventEmitter } from 'node:events';

interface Options {
  clientId: string;
  /** Each process of a test has a port of its own, by which its clients are known. */
  port: number;
  will?: { topic: string; payload: Uint8Array };
}
interface Message {
  topic: string;
  payload: Uint8Array;
  retain: boolean;
}
export type Which = (client: Options) => boolean;
type Done = (error?: Error | null, granted?: { qos: number }[]) => void;

const SHARED = /^\$share\/([^/]+)\/(.+)$/;
const isIn = (filter: string, topic: string): boolean => {
  const [parts, names] = [filter.split('/'), topic.split('/')];
  return parts.length === names.length && parts.every((part, i) => part === '+' || part === names[i]);
};

export class MemoryClient extends EventEmitter {
  connected = false;
  readonly stream = {};
  readonly filters = new Map<string, { nl: boolean }>();
  readonly id: string;
  /** What waits for it and what it has sent meanwhile; `after` so many messages more. */
  held: { after: number; to: Message[]; from: Message[] } | null = null;

  constructor(
    private readonly broker: MemoryBroker,
    readonly options: Options,
  ) {
    super();
    this.id = options.clientId;
    queueMicrotask(() => broker.arrive(this));
  }

  subscribe(filters: Record<string, { nl: boolean }>, done: Done): void {
    for (const [filter, how] of Object.entries(filters)) this.filters.set(filter, how);
    queueMicrotask(() => {
      done(null, []);
      for (const message of this.broker.retained.values())
        if (Object.keys(filters).some((filter) => isIn(filter, message.topic))) this.take(message);
    });
  }

  publish(topic: string, payload: Uint8Array, { retain }: { retain: boolean }, done: Done): void {
    if (!this.connected) return;
    const message = { topic, payload: Uint8Array.from(payload), retain };
    if (this.held && this.held.after <= 0) this.held.from.push(message);
    else this.broker.pass(this, message);
    queueMicrotask(() => this.connected && done(null));
  }

  take(message: Message): void {
    if (this.held && this.held.after-- <= 0) {
      this.held.to.push(message);
      return;
    }
    const { topic, payload, retain } = message;
    queueMicrotask(() => this.connected && this.emit('message', topic, payload, { retain }));
  }

  /** The client ends the connection; a last will is published only if it is forced. */
  end(isForced: boolean): void {
    this.connected = false;
    this.broker.leave(this, isForced);
  }
}

export class MemoryBroker {
  readonly retained = new Map<string, Message>();
  readonly #clients = new Set<MemoryClient>();
  readonly #cutOff: Which[] = [];
  readonly #held: { which: Which; after: number }[] = [];
  #turn = 0;
  /** Every message that was passed on. */
  readonly passed: (Message & { from: string; atMs: number })[] = [];
  nowMs: () => number = () => 0;
  /** Which messages do not arrive, as may be with QoS 0. */
  loses: (client: Options, topic: string) => boolean = () => false;

  /** In the place of `mqtt.connect`. */
  readonly connect = (options: Options): MemoryClient => new MemoryClient(this, options);

  arrive(client: MemoryClient): void {
    if (this.#cutOff.some((which) => which(client.options))) return;
    client.connected = true;
    const held = this.#held.find(({ which }) => which(client.options));
    if (held) client.held = { after: held.after, to: [], from: [] };
    this.#clients.add(client);
    client.emit('connect');
  }

  leave(client: MemoryClient, isForced: boolean): void {
    if (!this.#clients.delete(client)) return;
    const { will } = client.options;
    if (isForced && will) this.pass(client, { ...will, retain: true });
  }

  pass(from: MemoryClient, { topic, payload, retain }: Message): void {
    this.passed.push({ topic, payload, retain, from: from.id, atMs: this.nowMs() });
    if (retain) this.retained.set(topic, { topic, payload, retain });
    const groups = new Map<string, MemoryClient[]>();
    for (const client of this.#clients)
      for (const [filter, { nl }] of client.filters) {
        const [, group, inner] = SHARED.exec(filter) ?? [];
        if (!isIn(inner ?? filter, topic) || (nl && client === from)) continue;
        if (this.loses(client.options, topic)) continue;
        if (group === undefined) client.take({ topic, payload, retain: false });
        else groups.set(group, [...(groups.get(group) ?? []), client]);
      }
    for (const members of groups.values())
      members[this.#turn++ % members.length]!.take({ topic, payload, retain: false });
  }

  /** Like the death of their process: nothing goes to or from these clients any more. */
  cutOff(which: Which): void {
    this.#cutOff.push(which);
    for (const client of [...this.#clients].filter(({ options }) => which(options))) {
      client.connected = false;
      this.leave(client, true);
    }
  }

  /**
   * What is sent to these clients and by them waits until it is released, as for a process that is too busy.
   * @param after  so many messages still come through to each
   */
  hold(which: Which, after = 0): void {
    this.#held.push({ which, after });
    for (const client of this.#clients)
      if (which(client.options)) client.held ??= { after, to: [], from: [] };
  }

  release(which: Which): void {
    this.#held.splice(0);
    for (const client of [...this.#clients].filter(({ options }) => which(options))) {
      const { held } = client;
      client.held = null;
      for (const message of held?.to ?? []) client.take(message);
      for (const message of held?.from ?? []) this.pass(client, message);
    }
  }
}
