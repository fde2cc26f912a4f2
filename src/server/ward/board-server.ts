/** Starts and stops the server of a board. */
import { createServer, type Server } from 'node:https';
import type { AddressInfo } from 'node:net';
import { codeOf, PlainError } from '../../base/errors.ts';
import { PATIENCE } from '../bare-app.ts';
import { listenError, type PageServer } from '../server.ts';
import { type BoardAppOptions, buildBoard } from './board-app.ts';
import { endIsNear, type OwnCertificate } from './own-certificate.ts';

export interface BoardServerOptions extends BoardAppOptions {
  /** 0 takes any free port. */
  port: number;
  /** Address of this computer; default: one that nobody else reaches. */
  listenOn?: string;
  /** TLS of its own. */
  tls?: BoardTls | null;
}

export interface BoardTls {
  /** @throws PlainError when there is none that can be used */
  read: () => OwnCertificate;
  nowMs: () => number;
  /** Told once what is the matter with it while the board runs. */
  say: (text: string) => void;
}

export interface BoardServer extends PageServer {
  /** What is the matter with its certificate, and until when it holds; null without TLS of its own. */
  certificate(): { trouble: string | null; untilMs: number } | null;
}

/** A renewed certificate is looked for so often, ms. */
const LOOK_MS = 3600_000;

/** @throws PlainError when the port or the address cannot be had, the certificate cannot be used, or the page was never built */
export async function createBoardServer(options: BoardServerOptions): Promise<BoardServer> {
  let port = options.port;
  const { listenOn = '127.0.0.1', tls } = options;
  const own = tls ? new OwnTls(tls) : null;
  const app = buildBoard(
    { ...options, ...(own && { serverFactory: (handler) => own.serverFor(handler) }) },
    () => port,
  );
  try {
    await app.listen({ host: listenOn, port });
  } catch (cause) {
    await app.close();
    throw noSuchAddress(cause, listenOn) ?? listenError(cause, options.port);
  }
  port = (app.server.address() as AddressInfo).port;
  const looking = own && setInterval(() => own.look(), LOOK_MS).unref();
  return {
    url: `${own ? 'https' : 'http'}://127.0.0.1:${port}/`,
    certificate: () => own && { trouble: own.trouble, untilMs: own.untilMs },
    async close() {
      if (looking) clearInterval(looking);
      await app.close();
    },
  };
}

/** The certificate in use: a renewed one is taken over without a new start, a bad one is said and not taken. */
export class OwnTls {
  trouble: string | null = null;
  readonly #tls: BoardTls;
  #now: OwnCertificate;
  #server: Server | null = null;

  /** @throws PlainError when it cannot be used */
  constructor(tls: BoardTls) {
    this.#tls = tls;
    this.#now = tls.read();
    this.#told(endIsNear(this.#now, tls.nowMs()));
  }

  get untilMs(): number {
    return this.#now.untilMs;
  }

  serverFor(handler: Parameters<typeof createServer>[1]): Server {
    const { cert, key } = this.#now;
    this.#server = createServer(
      { ...PATIENCE.http, requestTimeout: PATIENCE.requestTimeout, cert, key },
      handler,
    );
    return this.#server;
  }

  look(): void {
    try {
      const { cert, key, untilMs } = this.#tls.read();
      if (cert !== this.#now.cert || key !== this.#now.key) this.#server?.setSecureContext({ cert, key });
      this.#now = { cert, key, untilMs };
      this.#told(endIsNear(this.#now, this.#tls.nowMs()));
    } catch (error) {
      if (!(error instanceof PlainError)) throw error;
      this.#told(error.text);
    }
  }

  #told(trouble: string | null): void {
    if (trouble !== null && trouble !== this.trouble) this.#tls.say(trouble);
    this.trouble = trouble;
  }
}

function noSuchAddress(cause: unknown, listenOn: string): PlainError | null {
  if (!['EADDRNOTAVAIL', 'EAFNOSUPPORT', 'ENOTFOUND', 'EINVAL'].includes(String(codeOf(cause)))) return null;
  return new PlainError(
    'board-listen',
    `This computer has no address ${listenOn} to serve the board on.`,
    'Give one of its own with --listen, or 0.0.0.0 for all of them.',
    { cause },
  );
}
