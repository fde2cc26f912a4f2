/**
 * Jobs of a site that any process may do, stored in its database by pg-boss (FOR UPDATE SKIP LOCKED) in a schema of its own. One process at a time has a
 * job, and holds a lock on the server as long as it is connected and has it; a job that failed, or whose lock is gone, is given to another. A job contains
 * only codes, nothing about a child.
 */
import { createHash } from 'node:crypto';
import pg from 'pg';
import PgBoss from 'pg-boss';
import { messageOf } from '../../base/errors.ts';
import { clientOptions, type DatabaseAddress } from './address.ts';
import { serverFault } from './faults.ts';

export type JobState = { is: 'waiting' } | { is: 'done' } | { is: 'failed'; why: string };

export interface JobQueue {
  /** Requests a job, under a name of its own: requested twice it is one job, unless it has ended. */
  put(key: string, job: object): Promise<void>;
  stateOf(key: string): Promise<JobState>;
  /** Does the next job, if there is one. An error thrown by `act` counts as a failed attempt. @returns whether there was a job */
  doOne(act: (job: unknown) => void | Promise<void>): Promise<boolean>;
  /** Gives jobs whose process was lost to others. */
  giveBackLost(): Promise<void>;
  close(): Promise<void>;
}

export interface JobTimes {
  /** A process that has a job for longer counts as lost, though it is connected; the longest feed takes some seconds. */
  lostAfterSec: number;
  /** A process that has a job without its lock counts as lost after this time. */
  unlockedSec: number;
}

const TIMES: JobTimes = { lostAfterSec: 300, unlockedSec: 10 };
const TRIES_MORE = 2;
/** Class of the locks of jobs. */
const JOBS = 1_161_970_253;

/**
 * For those that no living process has it is as if their time were over: pg-boss then gives them back by its own rule, each once. The number of a job's
 * lock is the first seven digits of its id.
 */
const MAKE_OVERDUE = `UPDATE pgboss.job SET started_on = started_on - expire_in
  WHERE name = $1 AND state = 'active' AND started_on < now() - $2 * interval '1 second' AND NOT EXISTS
    (SELECT 1 FROM pg_locks WHERE locktype = 'advisory' AND classid = ${JOBS} AND objsubid = 2
      AND objid = ('x0' || substr(job.id::text, 1, 7))::bit(32)::int::oid
      AND database = (SELECT oid FROM pg_database WHERE datname = current_database()))`;
const lockOf = (id: string): number => Number.parseInt(id.slice(0, 7), 16);

/**
 * @param name  of letters, digits, dots and hyphens
 * @throws PlainError database-away, database-refused …; like all calls
 */
export async function openJobQueue(
  address: DatabaseAddress,
  name: string,
  times: Partial<JobTimes> = {},
): Promise<JobQueue> {
  const { lostAfterSec, unlockedSec } = { ...TIMES, ...times };
  const boss = new PgBoss({
    ...clientOptions(address),
    ...{ max: 2, schedule: false, retryLimit: TRIES_MORE, expireInSeconds: lostAfterSec },
  });
  const locks = new JobLocks(address);
  // Errors of its own background work are met again by the next call.
  boss.on('error', () => {});
  const asked = async <T>(what: () => Promise<T>): Promise<T> => {
    try {
      return await what();
    } catch (error) {
      throw plainFault(address.label, error);
    }
  };
  try {
    await asked(async () => {
      await boss.start();
      await boss.createQueue(name);
    });
  } catch (error) {
    await boss.stop({ graceful: false }).catch(() => {});
    throw error;
  }
  return {
    put: (key, job) => asked(() => put(boss, name, key, job)),
    stateOf: (key) => asked(async () => stateIn(await boss.getJobById(name, idOf(name, key)))),
    doOne: (act) => asked(() => doOne(boss, locks, name, act)),
    giveBackLost: () =>
      asked(async () => {
        await boss.getDb().executeSql(MAKE_OVERDUE, [name, unlockedSec]);
        await boss.expire();
      }),
    async close() {
      await locks.close();
      await boss.stop({ graceful: false }).catch(() => {});
    },
  };
}

async function put(boss: PgBoss, name: string, key: string, job: object): Promise<void> {
  const id = idOf(name, key);
  if ((await boss.send(name, job, { id })) !== null) return;
  const before = await boss.getJobById(name, id);
  if (before === null || stateIn(before).is === 'waiting') return;
  await boss.deleteJob(name, id);
  await boss.send(name, job, { id });
}

function stateIn(job: Pick<PgBoss.JobWithMetadata, 'state' | 'output'> | null): JobState {
  switch (job?.state) {
    case 'failed':
    case 'cancelled':
      return { is: 'failed', why: whyIn(job.output) };
    case 'completed':
      return { is: 'done' };
    default:
      // A job that no longer exists was done long ago.
      return { is: job ? 'waiting' : 'done' };
  }
}

const whyIn = (output: object | null): string => {
  const { message, value }: { message?: unknown; value?: { message?: unknown } } = output ?? {};
  return String(message ?? value?.message ?? 'it was called off');
};

async function doOne(
  boss: PgBoss,
  locks: JobLocks,
  name: string,
  act: (job: unknown) => void | Promise<void>,
): Promise<boolean> {
  await locks.ready();
  const [job] = await boss.fetch(name, { includeMetadata: true });
  if (!job) return false;
  try {
    if (!(await locks.take(job.id))) return true;
    // It may have been given to another one before the lock was had.
    const now = await boss.getJobById(name, job.id);
    if (now?.state !== 'active' || now.retryCount !== job.retryCount) return true;
    try {
      await act(job.data);
    } catch (error) {
      await boss.fail(name, job.id, { message: messageOf(error) });
      return true;
    }
    await boss.complete(name, job.id);
    return true;
  } finally {
    await locks.release(job.id);
  }
}

/** Locks of the jobs that this process has, on a connection of their own: the server frees them when the process is gone. */
class JobLocks {
  #client: pg.Client | null = null;

  constructor(private readonly address: DatabaseAddress) {}

  async ready(): Promise<void> {
    if (this.#client) return;
    const { ssl, ...options } = clientOptions(this.address);
    const client = new pg.Client({ ...options, ssl: ssl ?? false, keepAlive: true });
    const lost = (): void => {
      if (this.#client === client) this.#client = null;
    };
    client.on('error', lost);
    client.on('end', lost);
    await client.connect();
    this.#client = client;
  }

  async take(id: string): Promise<boolean> {
    const { rows } = await this.#asked('SELECT pg_try_advisory_lock($1, $2) AS mine', id);
    return rows[0]?.mine === true;
  }

  async release(id: string): Promise<void> {
    // With the connection all its locks are gone.
    await this.#asked('SELECT pg_advisory_unlock($1, $2)', id).catch(() => {});
  }

  async #asked(sql: string, id: string): Promise<pg.QueryResult> {
    await this.ready();
    return this.#client!.query(sql, [JOBS, lockOf(id)]);
  }

  async close(): Promise<void> {
    await this.#client?.end().catch(() => {});
  }
}

/** The same id for the same job: pg-boss identifies jobs by a UUID (RFC 9562, version 8, by SHA-256). */
function idOf(name: string, key: string): string {
  const hex = createHash('sha256').update(`${name}\0${key}`).digest('hex');
  return [
    hex.slice(0, 8),
    hex.slice(8, 12),
    `8${hex.slice(13, 16)}`,
    `a${hex.slice(17, 20)}`,
    hex.slice(20, 32),
  ].join('-');
}

function plainFault(label: string, error: unknown): unknown {
  if (!(error instanceof Error)) return error;
  const code = 'code' in error ? String(error.code) : '';
  return serverFault(label, { code, message: error.message });
}
