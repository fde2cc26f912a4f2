import { once } from 'node:events';
import { createServer } from 'node:net';

/**
 * The system gives connections ports from 32768 on (Linux: ip(7), ip_local_port_range), so that any connection of another program could take a
 * port of that range before it is listened on, or while its server is down.
 */
const FIRST = 20_000;
const PORTS = 12_000;
/** Processes with nearby numbers, as the test runner starts them, begin far apart. */
const APART = 100;

let next = (process.pid * APART) % PORTS;

/** @returns a port of this computer that nobody uses now, that no connection is given by itself, and that this process asked for only once */
export async function freePort(): Promise<number> {
  for (let tried = 0; tried < PORTS; tried += 1) {
    const port = FIRST + next;
    next = (next + 1) % PORTS;
    if (await isFree(port)) return port;
  }
  throw new Error('no port is free');
}

async function isFree(port: number): Promise<boolean> {
  const server = createServer().listen(port, '127.0.0.1');
  try {
    await once(server, 'listening');
  } catch {
    return false;
  }
  server.close();
  await once(server, 'close');
  return true;
}
