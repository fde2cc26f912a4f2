/**
 * The recomputations of a study, beside its logs: a folder each, 001 and on, with `run.json` (which program), a result for each
 * session, and once it is over `differences.csv`, `briefs.json` for the curves, and `done.json`. They contain no time of day, so the same input gives the same bytes.
 */

import * as fs from 'node:fs';
import { join } from 'node:path';
import { ownJson } from '../../../base/typed.ts';
import type { SessionBrief } from '../../../research/group/brief.ts';
import { replaceFile, writeAll } from '../../../store/disk.ts';
import type { ListedAside } from '../sessions/set-aside-list.ts';
import type { StudyFolder } from '../study-folder.ts';

export interface Run {
  /** 001 and on. */
  name: string;
  folder: string;
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

export const resultPath = ({ folder }: Pick<Run, 'folder'>, session: string): string =>
  join(folder, 'sessions', `${session}.json.gz`);

/** @returns the runs in that folder, in order */
export function runsIn(recomputed: string): Run[] {
  if (!fs.existsSync(recomputed)) return [];
  return fs
    .readdirSync(recomputed)
    .sort()
    .filter((name) => fs.existsSync(join(recomputed, name, RUN)))
    .map((name) => {
      const folder = join(recomputed, name);
      const by = ownJson<Pick<Run, 'programSha256' | 'softwareVersion'>>(
        fs.readFileSync(join(folder, RUN), 'utf8'),
      );
      return { name, folder, ...by, isDone: fs.existsSync(join(folder, DONE)) };
    });
}

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
  const folder = join(study.recomputed, name);
  fs.mkdirSync(join(folder, 'sessions'), { recursive: true, mode: 0o700 });
  writeText(join(folder, RUN), `${JSON.stringify({ programSha256, softwareVersion }, null, 2)}\n`);
  return {
    run: { name, folder, programSha256, softwareVersion, isDone: false },
    isResumed: false,
    before,
  };
}

export function endRun(run: Run, done: RunDone): void {
  writeText(join(run.folder, DONE), `${JSON.stringify(done, null, 2)}\n`);
}

/** @returns the file with a session's result by this program, if there is one */
export function latestResults(
  study: StudyFolder,
  programSha256: string | null,
): (session: string) => string | null {
  const run = runsIn(study.recomputed).findLast((one) => one.programSha256 === programSha256);
  return (session) => {
    const path = run ? resultPath(run, session) : null;
    return path !== null && fs.existsSync(path) ? path : null;
  };
}

export const writeBriefs = ({ folder }: Run, briefs: readonly RunBrief[]): void =>
  writeText(join(folder, BRIEFS), `[${briefs.map((brief) => JSON.stringify(brief)).join(',\n')}]\n`);

export const readBriefs = ({ folder }: Run): RunBrief[] =>
  ownJson(fs.readFileSync(join(folder, BRIEFS), 'utf8'));

export const readDone = ({ folder }: Run): RunDone => ownJson(fs.readFileSync(join(folder, DONE), 'utf8'));

/** Takes sessions out of all runs, also of their lists. */
export function forgetSessions(recomputed: string, sessions: ReadonlySet<string>): void {
  for (const run of runsIn(recomputed)) {
    for (const session of sessions) fs.rmSync(resultPath(run, session), { force: true });
    const differences = join(run.folder, DIFFERENCES);
    if (fs.existsSync(differences)) {
      const lines = fs.readFileSync(differences, 'utf8').split('\r\n');
      writeText(differences, lines.filter((line) => !sessions.has(line.split(',', 1)[0]!)).join('\r\n'));
    }
    if (fs.existsSync(join(run.folder, BRIEFS)))
      writeBriefs(
        run,
        readBriefs(run).filter(({ session }) => !sessions.has(session)),
      );
    if (!run.isDone) continue;
    const { setAside, ...rest } = readDone(run);
    endRun(run, { ...rest, setAside: setAside.filter(({ session }) => !sessions.has(session)) });
  }
}

const writeText = (path: string, text: string): void =>
  replaceFile(fs, path, (fd) => writeAll(fs, fd, Buffer.from(text)));
