/** Starts and stops the page's server. It listens on this machine's loopback addresses; on the home network only with a `door`. */

import { createServer as createHttpServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { codeOf, PlainError } from '../base/errors.ts';
import { type AppOptions, buildApp } from './app.ts';
import { PATIENCE } from './bare-app.ts';

/** Port of the page unless another is asked for. */
export const DEFAULT_PAGE_PORT = 4140;

export interface ServerOptions extends AppOptions {
  /** 0 takes any free port. */
  port: number;
}

export interface PageServer {
  /** Address to open, with a slash at the end. */
  url: string;
  /** Ends every stream and connection, then resolves. */
  close(): Promise<void>;
}

/**
 * Listens on 127.0.0.1, and on ::1 too where the machine has it; with a door also on its address in the home network.
 * @throws PlainError when the port is taken or not allowed, or when the page was never built
 */
export async function createServer(options: ServerOptions): Promise<PageServer> {
  let port = options.port;
  const app = buildApp(options, () => port);
  try {
    await app.listen({ host: '127.0.0.1', port: options.port });
  } catch (cause) {
    await app.close();
    throw listenError(cause, options.port);
  }
  port = (app.server.address() as AddressInfo).port;
  const { door } = options;
  const others: Server[] = [];
  const close = async () => {
    const closed = others.map((server) => new Promise<void>((done) => server.close(() => done())));
    await app.close();
    for (const server of others) server.closeAllConnections();
    await Promise.all(closed);
    door?.close();
  };
  const serverOf = () =>
    createHttpServer({ ...PATIENCE.http, requestTimeout: PATIENCE.requestTimeout }, app.routing);
  const second = await listenOnIpv6(serverOf(), port);
  if (second) others.push(second);
  if (door) {
    door.port = port;
    try {
      others.push(await listenOn(serverOf(), door.network.address, port));
    } catch (cause) {
      await close();
      throw listenError(cause, options.port);
    }
  }
  return { url: `http://127.0.0.1:${port}/`, close };
}

function listenOn(server: Server, host: string, port: number): Promise<Server> {
  return new Promise((done, fail) => {
    server.once('error', fail);
    server.listen({ host, port }, () => done(server));
  });
}

/** If this fails, nothing is lost, since the page's own address is the IPv4 one. */
function listenOnIpv6(server: Server, port: number): Promise<Server | null> {
  return new Promise((done) => {
    server.once('error', () => done(null));
    server.listen({ host: '::1', port, ipv6Only: true }, () => done(server));
  });
}

export function listenError(cause: unknown, port: number): unknown {
  const code = codeOf(cause);
  if (code === 'EADDRINUSE') {
    return new PlainError(
      'page-port-in-use',
      `The page cannot open: port ${port} of this machine is already in use, perhaps by another Ebbline.`,
      `Stop that program, or start with another port: --page-port ${port < 65535 ? port + 1 : port - 1}.`,
      { cause },
    );
  }
  if (code === 'EADDRNOTAVAIL') {
    return new PlainError(
      'share-address-gone',
      'The page cannot be shared: this computer has lost its address in the home network.',
      'See that it is connected, then start again; or leave --share out.',
      { cause },
    );
  }
  if (code === 'EACCES') {
    return new PlainError(
      'page-port-not-allowed',
      `The page cannot open: this user may not use port ${port}.`,
      `Choose a port above 1023: --page-port ${DEFAULT_PAGE_PORT}.`,
      { cause },
    );
  }
  return cause;
}
