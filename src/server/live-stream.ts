/**
 * The live feed as server-sent events (WHATWG HTML, "Server-sent events"), or the board of a room. Each event is one complete view.
 * A slow page gets the newest view when it can take one again, never a backlog. An old view is never repeated, since
 * silence tells the page that there is no measurement.
 */
import type { ServerResponse } from 'node:http';
import type { Observable } from 'rxjs';

/** After a broken stream the page's browser tries again this soon. */
const RETRY_MS = 1000;
/** Period of comments, which detect closed pages while the source is silent. */
export const HEARTBEAT_MS = 5000;
/** An older view is not sent to a new page. */
export const FRESH_MS = 1000;

interface Client {
  response: Pick<ServerResponse, 'write' | 'end' | 'on'>;
  blocked: boolean;
  waiting: string | null;
}

export interface LiveStreamOptions {
  /** Monotonic milliseconds. */
  nowMs?: () => number;
  onError?: (error: unknown) => void;
  /** Called with the number of open pages, whenever it changes. */
  onPages?: (count: number) => void;
}

export class LiveStream<View> {
  readonly #clients = new Set<Client>();
  readonly #nowMs: () => number;
  readonly #subscription: { unsubscribe(): void };
  readonly #heartbeat: NodeJS.Timeout;
  readonly #onPages: (count: number) => void;
  #latest: { event: string; atMs: number } | null = null;

  constructor(view$: Observable<View>, options: LiveStreamOptions = {}) {
    this.#nowMs = options.nowMs ?? (() => performance.now());
    this.#onPages = options.onPages ?? (() => {});
    this.#heartbeat = setInterval(() => this.#beat(), HEARTBEAT_MS).unref();
    this.#subscription = view$.subscribe({
      next: (view) => this.#publish(view),
      error: (error) => {
        this.#latest = null;
        options.onError?.(error);
      },
    });
  }

  get clientCount(): number {
    return this.#clients.size;
  }

  /** Adds a page whose response head has been written; it is removed when its connection closes. */
  join(response: Client['response']): void {
    const client: Client = { response, blocked: false, waiting: null };
    this.#clients.add(client);
    this.#onPages(this.#clients.size);
    const leave = () => {
      if (this.#clients.delete(client)) this.#onPages(this.#clients.size);
    };
    response.on('close', leave);
    response.on('error', leave);
    response.on('drain', () => {
      client.blocked = false;
      const event = client.waiting;
      client.waiting = null;
      if (event !== null) this.#send(client, event);
    });
    this.#send(client, `retry: ${RETRY_MS}\n\n`);
    if (this.#latest && this.#nowMs() - this.#latest.atMs < FRESH_MS) this.#send(client, this.#latest.event);
  }

  close(): void {
    this.#subscription.unsubscribe();
    clearInterval(this.#heartbeat);
    for (const client of this.#clients) client.response.end();
    this.#clients.clear();
  }

  #publish(view: View): void {
    const event = `data: ${JSON.stringify(view)}\n\n`;
    this.#latest = { event, atMs: this.#nowMs() };
    for (const client of this.#clients) {
      if (client.blocked) client.waiting = event;
      else this.#send(client, event);
    }
  }

  #beat(): void {
    for (const client of this.#clients) if (!client.blocked) this.#send(client, ': still here\n\n');
  }

  #send(client: Client, text: string): void {
    if (!client.response.write(text)) client.blocked = true;
  }
}
