/**
 * Jobs of a site that any process may do, stored in its database by pg-boss (FOR UPDATE SKIP LOCKED) in a schema of its own. One process at a time has a
 * job; a job that failed, or whose process was lost, is given to another. A job contains only codes, nothing about a child.
 */
import { createHash } from 'node:crypto';
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
  doOne(act: (job: unknown) => void): Promise<boolean>;
  /** Gives jobs whose process was lost to others. */
  giveBackLost(): Promise<void>;
  close(): Promise<void>;
}

/** A process that has a job for longer counts as lost; the longest feed takes some seconds. */
const LOST_AFTER_SEC = 300;
const TRIES_MORE = 2;

/**
 * @param name  of letters, digits, dots and hyphens
 * @throws PlainError database-away, database-refused …; like all calls
 */
export async function openJobQueue(
  address: DatabaseAddress,
  name: string,
  lostAfterSec = LOST_AFTER_SEC,
): Promise<JobQueue> {
  const boss = new PgBoss({
    ...clientOptions(address),
    ...{ max: 2, schedule: false, retryLimit: TRIES_MORE, expireInSeconds: lostAfterSec },
  });
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
    doOne: (act) => asked(() => doOne(boss, name, act)),
    giveBackLost: () => asked(() => boss.expire()),
    close: () => boss.stop({ graceful: false }).catch(() => {}),
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

async function doOne(boss: PgBoss, name: string, act: (job: unknown) => void): Promise<boolean> {
  const [job] = await boss.fetch(name);
  if (!job) return false;
  try {
    act(job.data);
  } catch (error) {
    await boss.fail(name, job.id, { message: messageOf(error) });
    return true;
  }
  await boss.complete(name, job.id);
  return true;
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
