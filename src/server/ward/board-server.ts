/** Starts and stops the server of a board. */
import type { AddressInfo } from 'node:net';
import { listenError, type PageServer } from '../server.ts';
import { type BoardAppOptions, buildBoard } from './board-app.ts';

export interface BoardServerOptions extends BoardAppOptions {
  /** 0 takes any free port. */
  port: number;
}

/** Listens on loopback only. @throws PlainError when the port is taken or not allowed, or when the page was never built */
export async function createBoardServer(options: BoardServerOptions): Promise<PageServer> {
  let port = options.port;
  const app = buildBoard(options, () => port);
  try {
    await app.listen({ host: '127.0.0.1', port });
  } catch (cause) {
    await app.close();
    throw listenError(cause, options.port);
  }
  port = (app.server.address() as AddressInfo).port;
  return { url: `http://127.0.0.1:${port}/`, close: () => app.close() };
}
