/** How a process of a house is: `/health` for whoever restarts it, `/metrics` in OpenMetrics for whoever watches many. No name, no amount, no sleeve's number. */
import { createServer, type Server } from 'node:http';
import { Counter, collectDefaultMetrics, Gauge, type OpenMetricsContentType, Registry } from 'prom-client';
import { PlainError } from '../base/errors.ts';

export interface HealthAnswer {
  isWell: boolean;
  /** Plain sentences. */
  troubles: string[];
  sleeves: number;
  feeds: number;
}

export interface Metrics {
  registry: Registry<OpenMetricsContentType>;
  gauge(name: string, help: string, now: () => number): void;
  /** @param now  counts since the start */
  counter(name: string, help: string, now: () => number): void;
}

/** With those of the process itself. */
export function createMetrics(): Metrics {
  const registry = new Registry<OpenMetricsContentType>();
  registry.setContentType(Registry.OPENMETRICS_CONTENT_TYPE);
  collectDefaultMetrics({ register: registry, prefix: 'ebbline_' });
  return {
    registry,
    gauge(name, help, now) {
      new Gauge({
        name: `ebbline_${name}`,
        help,
        registers: [registry],
        collect() {
          this.set(now());
        },
      });
    },
    counter(name, help, now) {
      let told = 0;
      new Counter({
        name: `ebbline_${name}`,
        help,
        registers: [registry],
        collect() {
          this.inc(now() - told);
          told = now();
        },
      });
    },
  };
}

/** @throws PlainError health-port */
export async function serveHealth(
  { health, metrics: { registry } }: { health: () => HealthAnswer; metrics: Metrics },
  { address, port }: { address: string; port: number },
): Promise<{ url: string; close(): Promise<void> }> {
  const server = createServer((request, response) => {
    if (request.url === '/health') {
      const answer = health();
      response.writeHead(answer.isWell ? 200 : 503, { 'content-type': 'application/json' });
      response.end(`${JSON.stringify(answer)}\n`);
    } else if (request.url === '/metrics') {
      registry.metrics().then(
        (text) => {
          response.writeHead(200, { 'content-type': registry.contentType });
          response.end(text);
        },
        () => response.writeHead(500).end(),
      );
    } else response.writeHead(404).end();
  });
  await listening(server, address, port);
  const { port: bound } = server.address() as { port: number };
  return {
    url: `http://${address.includes(':') ? `[${address}]` : address}:${bound}`,
    close: () => new Promise((resolve) => server.close(() => resolve())),
  };
}

const listening = (server: Server, address: string, port: number): Promise<void> =>
  new Promise((resolve, reject) => {
    server.once('error', (error) =>
      reject(
        new PlainError(
          'health-port',
          `Health and metrics cannot be served on ${address}, port ${port} (${error.message}).`,
          'Give each process of a computer a port of its own with --health-port.',
          { cause: error },
        ),
      ),
    );
    server.listen(port, address, resolve);
  });
