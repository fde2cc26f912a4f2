/**
 * Three ways to share sleeves among workers, on a real broker and a real database: what a shared subscription does to a sleeve's own bytes, how long it
 * takes until a sleeve whose worker fell silent has another by its relay's question, and by a lease in the database.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import pg from 'pg';
import { type BrokerSession, brokerSession } from '../../firmware-bridge/links/broker/broker-session.ts';
import { sleeveNumberIn, sleeveTopics, wantedTopic } from '../../firmware-bridge/links/broker/topics.ts';
import { ASK_AFTER_MS, encodeWanted } from '../../firmware-bridge/links/broker/wanted.ts';
import { createTestBroker, noBroker, type TestBroker } from '../support/broker.ts';
import { DATABASE_PASSWORD, noPostgres, sharedPostgres } from '../support/postgres.ts';
import { fixed, printTable, quantile } from './table.ts';

const PLACE = { site: 'elm', room: 'blue' };
const SLEEVES = 20;
const ROUNDS = 100;
/** A lease is renewed twice during its time and checked as often as a relay checks. */
const LEASE_MS = ASK_AFTER_MS;
const LOOK_MS = 250;

export async function benchSharing(): Promise<void> {
  const missing = noBroker ?? noPostgres;
  if (missing !== null) return console.log(`\nNo sharing: ${missing}.`);
  const folder = mkdtempSync(join(tmpdir(), 'ebbline-sharing-'));
  const ends: (() => unknown)[] = [];
  try {
    const broker = await createTestBroker({
      folder,
      lines: ['set_tcp_nodelay true'],
      whenOver: (end) => ends.push(end),
    });
    await broker.start();
    const split = await splitOfBytes(broker, ends);
    const asked = await askedAndAnswered(broker, ends);
    const leased = await leasedAnew();
    printTable(
      'Until a sleeve whose worker fell silent is with another one, ms after the last word',
      ['way', 'p50', 'p99', 'database dead'],
      [
        [
          'its relay asks, the broker picks one',
          ...row(asked.map((ms) => ASK_AFTER_MS + LOOK_MS / 2 + ms)),
          'goes on',
        ],
        ['a lease in the database, looked for', ...row(leased), 'nobody takes over'],
      ],
      [
        `A shared subscription to the bytes themselves is no way: of each of ${SLEEVES} sleeves two workers got ${split}, so that neither had a stream.`,
        `The relay asks after ${ASK_AFTER_MS} ms, which is counted in, as is half of its look each ${LOOK_MS} ms; a lease lasts as long and is looked for as often. By the question alone: p50 ${fixed(quantile(asked, 0.5), 1)} ms.`,
      ],
    );
  } finally {
    for (const end of ends.reverse()) await end();
    rmSync(folder, { recursive: true, force: true });
  }
}

const row = (ms: number[]): string[] => [0.5, 0.99].map((share) => fixed(quantile(ms, share), 0));

const connected = (broker: TestBroker, id: string, topics: string[], ends: (() => unknown)[]) =>
  new Promise<BrokerSession>((resolve, reject) => {
    const one = brokerSession(broker.address, { clientId: id, keepSec: 0, topics }).subscribe({
      next: resolve,
      error: reject,
    });
    ends.push(() => one.unsubscribe());
  });

async function splitOfBytes(broker: TestBroker, ends: (() => unknown)[]): Promise<string> {
  const counts = [new Map<number, number>(), new Map<number, number>()];
  for (const [i, count] of counts.entries()) {
    const session = await connected(broker, `bytes-${i}`, ['$share/all/ebbline/1/+/+/+/from'], ends);
    session.messages$.subscribe(({ topic }) => {
      const number = sleeveNumberIn(topic)!;
      count.set(number, (count.get(number) ?? 0) + 1);
    });
  }
  const relay = await connected(broker, 'relay', ['none'], ends);
  await pause(200);
  for (let i = 0; i < ROUNDS; i++)
    for (let number = 1; number <= SLEEVES; number++)
      relay.publish(sleeveTopics(PLACE, number).fromSleeve, new Uint8Array([i]));
  await pause(1500);
  const share = (i: number): number => [...counts[i]!.values()].reduce((sum, one) => sum + one, 0);
  const all = share(0) + share(1);
  return `${fixed((100 * share(0)) / all, 0)} and ${fixed((100 * share(1)) / all, 0)} % in turn`;
}

/** From the relay's question to the moment at which one worker has it. */
async function askedAndAnswered(broker: TestBroker, ends: (() => unknown)[]): Promise<number[]> {
  let answered: () => void = () => {};
  for (const i of [0, 1]) {
    const worker = await connected(broker, `worker-${i}`, [wantedTopic(null, null)], ends);
    worker.messages$.subscribe(() => answered());
  }
  const relay = await connected(broker, 'asks', ['none'], ends);
  await pause(200);
  const tookMs: number[] = [];
  // As long as a checkpoint is.
  const word = encodeWanted({ epoch: 1, checkpoint: new Uint8Array(60_000) });
  for (let i = 0; i < ROUNDS; i++) {
    const startedMs = performance.now();
    await new Promise<void>((resolve) => {
      answered = resolve;
      relay.publish(sleeveTopics(PLACE, 1 + (i % SLEEVES)).wanted, word);
    });
    tookMs.push(performance.now() - startedMs);
  }
  return tookMs;
}

/** From the last renewal of a lease to its taking by a worker that looks for those that are over. */
async function leasedAnew(): Promise<number[]> {
  const server = await sharedPostgres();
  const { name, user } = server.freshDatabase();
  const client = new pg.Client({
    host: '127.0.0.1',
    port: server.port,
    database: name,
    user,
    password: DATABASE_PASSWORD,
  });
  await client.connect();
  await client.query('CREATE TABLE lease (sleeve int PRIMARY KEY, holder int, until timestamptz)');
  const tookMs: number[] = [];
  for (let round = 0; round < 5; round++) {
    await client.query('DELETE FROM lease');
    const saidMs = performance.now();
    await client.query(
      `INSERT INTO lease SELECT n, 1, clock_timestamp() + $1 * interval '1 ms' FROM generate_series(1, $2::int) n`,
      [LEASE_MS, SLEEVES],
    );
    await pause((LOOK_MS * round) / 5);
    for (let taken = 0; taken < SLEEVES; ) {
      await pause(LOOK_MS);
      const { rowCount } = await client.query(
        `UPDATE lease SET holder = 2, until = clock_timestamp() + $1 * interval '1 ms'
          WHERE sleeve IN (SELECT sleeve FROM lease WHERE until < clock_timestamp() FOR UPDATE SKIP LOCKED) AND holder = 1`,
        [LEASE_MS],
      );
      for (let i = 0; i < (rowCount ?? 0); i++) tookMs.push(performance.now() - saidMs);
      taken += rowCount ?? 0;
    }
  }
  await client.end();
  return tookMs;
}
