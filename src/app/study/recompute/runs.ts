/**
 * The recomputations of a study, beside its logs: a folder each, 001 and on, with `run.json` (which program), a result for each
 * session, and once it is over `differences.csv`, `briefs.json` for the curves, and `done.json`. They contain no time of day, so the same input gives the same bytes.
 */
import type { SessionBrief } from '../../../research/group/brief.ts';
import type { SideFiles } from '../../../store/side-files.ts';
import type { ListedAside } from '../sessions/set-aside-list.ts';
import type { StudyFolder } from '../study-folder.ts';

export interface Run {
  /** 001 and on. */
  name: string;
  files: SideFiles;
  programSha256: string;
  softwareVersion: string;
  isDone: boolean;
}

export interface RunDone {
  sessions: number;
  setAside: ListedAside[];
}

const RUN = 'run.json';
const DONE = 'done.json';
export const DIFFERENCES = 'differences.csv';
const BRIEFS = 'briefs.json';

/** Data of a session for the curves, without the arm. */
export type RunBrief = Omit<SessionBrief, 'arm'>;

/** Name of a session's result among the files of a run. */
export const resultName = (session: string): string => `sessions/${session}.json.gz`;

/** @returns the runs among these files, in order */
export const runsIn = (recomputed: SideFiles): Run[] =>
  recomputed.names().flatMap((name) => {
    const files = recomputed.within(name);
    const bytes = files.read(RUN);
    if (bytes === null) return [];
    const by: Pick<Run, 'programSha256' | 'softwareVersion'> = JSON.parse(bytes.toString());
    return [{ name, files, ...by, isDone: files.has(DONE) }];
  });

/** @returns an interrupted run of this program to continue, or a new one; and the last finished run before it */
export function beginRun(
  study: StudyFolder,
  programSha256: string,
  softwareVersion: string,
): { run: Run; isResumed: boolean; before: Run | null } {
  const runs = runsIn(study.recomputed);
  const before = runs.findLast(({ isDone }) => isDone) ?? null;
  const last = runs.at(-1);
  if (last && !last.isDone && last.programSha256 === programSha256)
    return { run: last, isResumed: true, before };
  const name = String(Number(last?.name ?? 0) + 1).padStart(3, '0');
  const files = study.recomputed.within(name);
  files.replace(RUN, `${JSON.stringify({ programSha256, softwareVersion }, null, 2)}\n`);
  return {
    run: { name, files, programSha256, softwareVersion, isDone: false },
    isResumed: false,
    before,
  };
}

export const endRun = ({ files }: Run, done: RunDone): void =>
  files.replace(DONE, `${JSON.stringify(done, null, 2)}\n`);

/** @returns a session's result by this program as it is stored, if there is one */
export function latestResults(
  study: StudyFolder,
  programSha256: string | null,
): (session: string) => Buffer | null {
  const run = runsIn(study.recomputed).findLast((one) => one.programSha256 === programSha256);
  return (session) => run?.files.read(resultName(session)) ?? null;
}

export const writeBriefs = ({ files }: Run, briefs: readonly RunBrief[]): void =>
  files.replace(BRIEFS, `[${briefs.map((brief) => JSON.stringify(brief)).join(',\n')}]\n`);

export const readBriefs = ({ files }: Run): RunBrief[] => JSON.parse(files.read(BRIEFS)!.toString());

export const readDone = ({ files }: Run): RunDone => JSON.parse(files.read(DONE)!.toString());

/** Takes sessions out of all runs, also of their lists. */
export function forgetSessions(recomputed: SideFiles, sessions: ReadonlySet<string>): void {
  for (const run of runsIn(recomputed)) {
    const { files } = run;
    for (const session of sessions) files.remove(resultName(session));
    const differences = files.read(DIFFERENCES);
    if (differences) {
      const lines = differences.toString().split('\r\n');
      files.replace(DIFFERENCES, lines.filter((line) => !sessions.has(line.split(',', 1)[0]!)).join('\r\n'));
    }
    if (files.has(BRIEFS))
      writeBriefs(
        run,
        readBriefs(run).filter(({ session }) => !sessions.has(session)),
      );
    if (!run.isDone) continue;
    const { setAside, ...rest } = readDone(run);
    endRun(run, { ...rest, setAside: setAside.filter(({ session }) => !sessions.has(session)) });
  }
}
