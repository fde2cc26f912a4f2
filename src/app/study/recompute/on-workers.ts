/**
 * A recomputation whose sessions are computed by the workers of a house: the caller puts each session into the queue of its site and collects the
 * results; workers compute from the database and store the result there. Only processes of the same program version share a queue.
 */
import { z } from 'zod';
import { PlainError } from '../../../base/errors.ts';
import type { FeedStore } from '../../../store/feed-store.ts';
import {
  type DatabaseAddress,
  type DatabaseChoice,
  databaseAddress,
} from '../../../store/postgres/address.ts';
import { type JobQueue, type JobTimes, openJobQueue } from '../../../store/postgres/job-queue.ts';
import { packedResult, resultIn } from '../sessions/result-file.ts';
import { computeSession, type StudyStore, sessionInput } from '../sessions/session-result.ts';
import { STUDY_CLOCK, StudyFolder, studiesAmong } from '../study-folder.ts';
import type { RecomputeCrew } from './recompute.ts';
import { recomputeSession } from './recompute-session.ts';
import { resultName, runsIn } from './runs.ts';

const jobSchema = z.object({ study: z.string(), run: z.string(), session: z.string() });

/** Most sessions in the queue at once. */
const UNDER_WAY = 32;
const LOOK_MS = 500;
const GIVE_BACK_MS = 5000;
/** After this long without a result perhaps no worker is running. */
const QUIET_MS = 15_000;

export const openStudyQueue = (
  address: DatabaseAddress,
  programSha256: string,
  times: Partial<JobTimes> = {},
): Promise<JobQueue> => openJobQueue(address, `study.${address.site}.${programSha256.slice(0, 12)}`, times);

/** The feeds as the caller needs them: only workers read the captures. */
export const withoutCaptures = (store: FeedStore): StudyStore => ({
  get: (id) => store.get(id),
  capturePath: (id) => (store.hasCapture(id) ? 'in the database' : null),
});

export interface WorkersCrew extends RecomputeCrew {
  close(): void;
}

/** @param onQuiet  called once when no result comes for a while */
export function workersCrew(
  study: StudyFolder,
  queue: JobQueue,
  onQuiet: () => void = () => {},
): WorkersCrew {
  const waiting = new Map<string, { resolve(): void; reject(error: unknown): void }>();
  let newsAtMs = performance.now();
  let saysQuiet: (() => void) | null = onQuiet;
  let isLooking = false;
  const look = async (): Promise<void> => {
    if (isLooking) return;
    isLooking = true;
    try {
      for (const [key, { resolve, reject }] of [...waiting]) {
        const state = await queue.stateOf(key);
        if (state.is === 'waiting') continue;
        waiting.delete(key);
        newsAtMs = performance.now();
        if (state.is === 'done') resolve();
        else reject(failed(key, state.why));
      }
    } catch (error) {
      for (const { reject } of waiting.values()) reject(error);
      waiting.clear();
    } finally {
      isLooking = false;
    }
    if (waiting.size === 0 || performance.now() - newsAtMs < QUIET_MS) return;
    saysQuiet?.();
    saysQuiet = null;
  };
  const looking = setInterval(() => void look(), LOOK_MS);
  const givingBack = setInterval(() => void queue.giveBackLost().catch(() => {}), GIVE_BACK_MS);
  let name: string | null = null;
  return {
    hands: UNDER_WAY,
    async run(_job, asked) {
      const { session, input } = asked;
      name ??= runsIn(study.recomputed).at(-1)!.name;
      const result = (): Buffer | null => study.recomputed.within(name!).read(resultName(session));
      if (resultIn(asked.known, input) !== null) return recomputeSession(asked);
      const key = `${study.protocol.code}/${name}/${session}`;
      await queue.put(key, { study: study.protocol.code, run: name, session });
      await new Promise<void>((resolve, reject) => waiting.set(key, { resolve, reject }));
      const known = result();
      if (resultIn(known, input) === null) throw changed(session);
      return recomputeSession({ ...asked, known });
    },
    close() {
      clearInterval(looking);
      clearInterval(givingBack);
    },
  };
}

/** The worker's side: computes a session and stores the result, unless it is stored already or nobody wants it any more. */
export function computeForStudy(store: FeedStore, asked: unknown): void {
  const job = jobSchema.parse(asked);
  const study = StudyFolder.open(studiesAmong(store.files), job.study, STUDY_CLOCK);
  const files = study.recomputed.within(job.run);
  const name = resultName(job.session);
  const find = () => study.sessions().find(({ session }) => session === job.session);
  const session = find();
  const found = session && sessionInput(store, session.feed, study.protocol);
  if (!found || typeof found === 'string') return;
  try {
    if (resultIn(files.read(name), found.input) !== null) return;
    const result = packedResult(found.input, computeSession(found.input));
    files.together(() => {
      // If the participant withdrew meanwhile, nothing is stored.
      if (find()) files.replace(name, result);
    });
  } finally {
    store.letGoOfFiles();
  }
}

const failed = (key: string, why: string): PlainError =>
  new PlainError(
    'study-job-failed',
    `Session ${key.split('/').at(-1)} could not be computed by a worker: ${why}`,
    'See what is wrong there, then give the same command again: what is computed stays.',
  );

const changed = (session: string): PlainError =>
  new PlainError(
    'study-changed',
    `Session ${session} changed while it was computed.`,
    'Give the same command again: what is computed stays.',
  );

/** The workers of a house compute: `ebbline work` on its database. @param onQuiet  told once when nothing comes for a while */
export async function withWorkers<T>(
  database: DatabaseChoice,
  study: StudyFolder,
  programSha256: string,
  onQuiet: () => void,
  act: (crew: RecomputeCrew) => Promise<T>,
): Promise<T> {
  const queue = await openStudyQueue(databaseAddress(database), programSha256);
  const crew = workersCrew(study, queue, onQuiet);
  try {
    return await act(crew);
  } finally {
    crew.close();
    await queue.close();
  }
}
