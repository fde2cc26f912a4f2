/** State of a worker: `/health` for a service manager, `/metrics` in OpenMetrics for monitoring. No names, amounts or sleeve numbers. */
import { createServer, type Server } from 'node:http';
import { Counter, collectDefaultMetrics, Gauge, type OpenMetricsContentType, Registry } from 'prom-client';
import { PlainError } from '../../base/errors.ts';
import type { Jobs } from './jobs/start-jobs.ts';
import type { StoreFront } from './storing/store-front.ts';
import type { Worker } from './worker.ts';

export interface HealthAnswer {
  isWell: boolean;
  /** Plain sentences. */
  troubles: string[];
  sleeves: number;
  feeds: number;
}

/** The parts of a worker process. */
export interface Working {
  worker: Worker;
  front: StoreFront;
  /** Null: its feeds are stored in a folder. */
  jobs: Pick<Jobs, 'done'> | null;
}

export function healthOf({ worker, front }: Pick<Working, 'worker' | 'front'>): HealthAnswer {
  const troubles = [worker.brokerTrouble, front.trouble].flatMap((trouble) => trouble?.text.trim() ?? []);
  return {
    // A dead database does not stop guidance: it is reported, and a restart would not help.
    isWell: worker.brokerTrouble === null,
    troubles,
    sleeves: worker.sleeves.size,
    feeds: feedsOf(worker),
  };
}

const feedsOf = ({ sleeves }: Worker): number =>
  [...sleeves.values()].filter(({ feedId }) => feedId !== null).length;

export function metricsOf({ worker, front, jobs }: Working): Registry<OpenMetricsContentType> {
  const registry = new Registry<OpenMetricsContentType>();
  registry.setContentType(Registry.OPENMETRICS_CONTENT_TYPE);
  collectDefaultMetrics({ register: registry, prefix: 'ebbline_' });
  const gauge = (name: string, help: string, now: () => number): void => {
    new Gauge({
      name: `ebbline_${name}`,
      help,
      registers: [registry],
      collect() {
        this.set(now());
      },
    });
  };
  const counter = (name: string, help: string, now: () => number): void => {
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
  };
  gauge('sleeves', 'Sleeves that this worker guides', () => worker.sleeves.size);
  gauge('sleeves_waiting', 'Sleeves that wait to be taken up', () => worker.waiting);
  gauge('feeds', 'Feeds that run on them', () => feedsOf(worker));
  gauge('broker_up', '1 while the broker is there', () => (worker.brokerTrouble ? 0 : 1));
  gauge('store_up', '1 while the store takes what comes', () => (front.isOpen && !front.trouble ? 1 : 0));
  gauge('store_waiting', 'Parts of feeds that wait to be kept', () => front.waiting);
  counter('sleeves_taken', 'Sleeves taken up since the start', () => worker.taken);
  counter(
    'sleeves_taken_in_feed',
    'Those of them in whose feed another worker had been',
    () => worker.takenInFeed,
  );
  counter('study_sessions_computed', 'Sessions of studies computed since the start', () => jobs?.done ?? 0);
  return registry;
}

/** @throws PlainError health-port */
export async function serveHealth(
  working: Working,
  { address, port }: { address: string; port: number },
): Promise<{ url: string; close(): Promise<void> }> {
  const registry = metricsOf(working);
  const server = createServer((request, response) => {
    if (request.url === '/health') {
      const answer = healthOf(working);
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
          'Give each worker of a computer a port of its own with --health-port.',
          { cause: error },
        ),
      ),
    );
    server.listen(port, address, resolve);
  });
