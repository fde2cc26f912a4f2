/** Recomputes all sessions of a study with the present estimator and compares with earlier results. */
import { stringify } from 'csv-stringify/sync';
import { inOrder } from '../crew/crew.ts';
import { type StudyStore, sessionInput } from '../sessions/session-result.ts';
import { type ListedAside, Seen } from '../sessions/set-aside-list.ts';
import type { StudyFolder } from '../study-folder.ts';
import type { Session } from '../study-records.ts';
import type { RecomputedSession, RecomputeJob } from './recompute-session.ts';
import { beginRun, DIFFERENCES, endRun, type Run, type RunBrief, resultName, writeBriefs } from './runs.ts';

export interface Recomputed {
  folder: string;
  isResumed: boolean;
  /** The run that it was compared with; null: the store. */
  comparedWith: string | null;
  sessions: number;
  /** Sessions with an earlier result; those bound since have none. */
  compared: number;
  added: number;
  /** Total time of all computed feeds, s. */
  lengthSec: number;
  setAside: ListedAside[];
  /** Largest change of each quantity, and the number of sessions in which it changed. */
  moved: { what: string; unit: string; sessions: number; most: number }[];
}

/** Whoever computes sessions. */
export interface RecomputeCrew {
  readonly hands: number;
  run(job: 'recomputeSession', arg: RecomputeJob): Promise<RecomputedSession>;
}

export interface RecomputeOptions {
  programSha256: string;
  softwareVersion: string;
  onProgress?: (done: number, of: number) => void;
}

const HEADS = ['session', 'what', 'unit', 'before', 'now', 'change'];
/** Smaller changes are rounding: the store keeps three digits. */
const NO_CHANGE = 0.002;

/** May be interrupted at any time and called again: results by the same program are reused. @throws PlainError of the store */
export async function recomputeStudy(
  study: StudyFolder,
  store: StudyStore,
  crew: RecomputeCrew,
  { programSha256, softwareVersion, onProgress = () => {} }: RecomputeOptions,
): Promise<Recomputed> {
  const { run, isResumed, before } = beginRun(study, programSha256, softwareVersion);
  const sessions = study.sessions();
  const seen = new Seen();
  const lines: (string | number | null)[][] = [HEADS];
  const briefs: RunBrief[] = [];
  const were = { compared: 0, added: 0 };
  let lengthSec = 0;
  let count = 0;
  await inOrder(
    sessions,
    2 * crew.hands,
    (session) => one(session, { study, store, crew, run, before }),
    ({ session }, { setAside, captureSha256, lengthSec: sec, isCompared, differences, brief }) => {
      const isUsed = seen.whyNot(session, setAside, captureSha256) === null;
      if (isUsed && brief) briefs.push(brief);
      if (isCompared) were.compared++;
      else if (isUsed) were.added++;
      lengthSec += sec;
      for (const { what, unit, before: was, now, change } of differences)
        lines.push([session, what, unit, was, now, change]);
      onProgress(++count, sessions.length);
    },
  );
  const text = stringify(lines, { record_delimiter: '\r\n' });
  run.files.replace(DIFFERENCES, text);
  writeBriefs(run, briefs);
  const setAside = seen.list;
  endRun(run, { sessions: sessions.length - setAside.length, setAside });
  study.audit('recomputed', `${sessions.length - setAside.length} sessions`);
  return {
    folder: run.files.where(),
    isResumed,
    comparedWith: before?.name ?? null,
    sessions: sessions.length - setAside.length,
    ...were,
    lengthSec,
    setAside,
    moved: movedIn(lines.slice(1)),
  };
}

interface Around {
  study: StudyFolder;
  store: StudyStore;
  crew: RecomputeCrew;
  run: Run;
  before: Run | null;
}

async function one({ session, participant, feed }: Session, around: Around): Promise<RecomputedSession> {
  const { study, store, crew, run, before } = around;
  const found = sessionInput(store, feed, study.protocol);
  if (typeof found === 'string')
    return {
      result: null,
      setAside: found,
      captureSha256: null,
      lengthSec: 0,
      isCompared: false,
      differences: [],
      brief: null,
    };
  const done = await crew.run('recomputeSession', {
    session,
    participant,
    input: found.input,
    known: run.files.read(resultName(session)),
    before: before?.files.read(resultName(session)) ?? null,
    kept: before === null ? found.kept.refined : null,
  });
  if (done.result) run.files.replace(resultName(session), done.result);
  return done;
}

function movedIn(lines: readonly (string | number | null)[][]): Recomputed['moved'] {
  const moved = new Map<string, Recomputed['moved'][number]>();
  for (const [, what, unit, was, now, change] of lines as [
    string,
    string,
    string,
    unknown,
    unknown,
    unknown,
  ][]) {
    const by = typeof change === 'number' ? Math.abs(change) : was === now ? 0 : null;
    if (by !== null && by <= NO_CHANGE) continue;
    const known = moved.get(what) ?? { what, unit, sessions: 0, most: 0 };
    moved.set(what, { ...known, sessions: known.sessions + 1, most: Math.max(known.most, by ?? 0) });
  }
  return [...moved.values()];
}
