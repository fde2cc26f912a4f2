/** `ebbline study …`: the commands that compute over all sessions, and their output. */
import { realpathSync } from 'node:fs';
import { resolve } from 'node:path';
import { giveWay } from '../../app/aside/give-way.ts';
import { isBlinded } from '../../app/study/blinding.ts';
import { type Crew, createCrew } from '../../app/study/crew/crew.ts';
import { exportStudy } from '../../app/study/export/study-export.ts';
import { studyBriefs } from '../../app/study/figures/study-briefs.ts';
import { participantsNeeded, writeFigures } from '../../app/study/figures/study-figures.ts';
import { noteHandedOut } from '../../app/study/handed-out.ts';
import { movedText } from '../../app/study/recompute/moved-text.ts';
import { openStudyQueue, withoutCaptures, workersCrew } from '../../app/study/recompute/on-workers.ts';
import { programSha256 } from '../../app/study/recompute/program.ts';
import { type RecomputeCrew, recomputeStudy } from '../../app/study/recompute/recompute.ts';
import type { StudyStore } from '../../app/study/sessions/session-result.ts';
import type { ListedAside } from '../../app/study/sessions/set-aside-list.ts';
import { SET_ASIDE } from '../../app/study/sessions/set-aside-words.ts';
import type { StudyFolder } from '../../app/study/study-folder.ts';
import { SOFTWARE_VERSION } from '../../base/version.ts';
import { type DatabaseChoice, databaseAddress } from '../../store/postgres/address.ts';
import { say } from '../print-out.ts';
import { withProgressOf } from '../progress.ts';
import { chosenDatabase, withStore } from '../with-store.ts';
import { opened, type Simulated } from './opened.ts';

const today = (): string => new Date().toISOString().slice(0, 10);

/** Computes at the lowest priority, so that running feeds are not slowed. */
async function withCrew<T>(act: (crew: Crew) => Promise<T>): Promise<T> {
  giveWay();
  const crew = createCrew();
  try {
    return await act(crew);
  } finally {
    await crew.close();
  }
}

/** Computed by the workers of a house: `ebbline work` on its database. */
async function withWorkers<T>(
  database: DatabaseChoice,
  study: StudyFolder,
  act: (crew: RecomputeCrew) => Promise<T>,
): Promise<T> {
  const queue = await openStudyQueue(databaseAddress(database), thisProgram().programSha256);
  const crew = workersCrew(study, queue, () => process.stderr.write(`${NOBODY_WORKS}\n`));
  try {
    return await act(crew);
  } finally {
    crew.close();
    await queue.close();
  }
}

const NOBODY_WORKS =
  'Nothing was computed yet. It is done by "ebbline work" of this very program on this database; meanwhile this waits. Ctrl-C ends it; given again, it goes on.';

const thisProgram = () => ({
  softwareVersion: SOFTWARE_VERSION,
  programSha256: programSha256(realpathSync(process.argv[1]!)),
});

/** @throws PlainError */
export async function exportCommand(
  code: string,
  options: Simulated & { out?: string; raw?: boolean },
): Promise<void> {
  const out = resolve(options.out ?? `${code}-${today()}`);
  const raw = options.raw ?? false;
  await withStore(options, async (store) => {
    const study = opened(code, store.files);
    const { sessions, folder, setAside, smallCells, named } = await withCrew((crew) =>
      withProgressOf('Exporting sessions', (onProgress) =>
        exportStudy(study, store, crew, { out, raw, ...thisProgram(), onProgress }),
      ),
    );
    say([
      `${sessions} sessions exported to ${folder}`,
      ...asideLines(setAside),
      named.length > 0 &&
        `A name of a baby or a caregiver stands in ${named.join(', ')}: read it once more before it goes to anybody.`,
      smallCells.length > 0 && `Few participants, who might be recognized: ${smallCells.join('; ')}.`,
    ]);
  });
}

/** @throws PlainError */
export async function recomputeCommand(code: string, options: Simulated): Promise<void> {
  await withStore(options, async (store) => {
    const study = opened(code, store.files);
    const recompute = (crew: RecomputeCrew, feeds: StudyStore) =>
      withProgressOf('Computing sessions', (onProgress) =>
        recomputeStudy(study, feeds, crew, { ...thisProgram(), onProgress }),
      );
    const database = chosenDatabase();
    const done =
      database === null
        ? await withCrew((crew) => recompute(crew, store))
        : await withWorkers(database, study, (crew) => recompute(crew, withoutCaptures(store)));
    say([
      `${done.sessions} sessions computed by version ${SOFTWARE_VERSION}, ${(done.lengthSec / 3600).toFixed(1)} h of feeds, in ${done.folder}`,
      done.isResumed && 'Went on where it was cut before.',
      ...movedText(done),
      ...asideLines(done.setAside),
    ]);
  });
}

/** @throws PlainError */
export async function figuresCommand(code: string, options: Simulated & { out?: string }): Promise<void> {
  const out = resolve(options.out ?? `${code}-figures-${today()}`);
  await withStore(options, async (store) => {
    const study = opened(code, store.files);
    const { briefs, setAside } = await withCrew((crew) =>
      withProgressOf('Computing sessions', (onProgress) =>
        studyBriefs(study, store, crew, thisProgram().programSha256, onProgress),
      ),
    );
    const written = await writeFigures(study.protocol, briefs, out);
    noteHandedOut(
      study,
      out,
      briefs.map(({ participant }) => participant),
    );
    study.audit('drawn', `${briefs.length} sessions`);
    say([
      `${written.length} files of ${briefs.length} sessions in ${out}`,
      isBlinded(study) && 'Arms are coded until the study is closed.',
      ...asideLines(setAside),
    ]);
  });
}

export function sizeCommand({ sd, half }: { sd: number; half: number }): void {
  const each = participantsNeeded(sd, half);
  say(
    each === null
      ? 'More than 100,000 participants in each arm.'
      : `${each} participants in each arm, for a difference that is known to ± ${half} (95 %) where participants vary by ${sd}.`,
  );
}

const asideLines = (setAside: readonly ListedAside[]): string[] =>
  setAside.map(({ session, why }) => `set aside: ${session}, ${SET_ASIDE[why]}`);
