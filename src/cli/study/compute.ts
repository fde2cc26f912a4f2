/** `ebbline study …`: the commands that compute over all sessions, and their output. */
import { realpathSync } from 'node:fs';
import { resolve } from 'node:path';
import { isBlinded } from '../../app/study/blinding.ts';
import { type Crew, withCrew } from '../../app/study/crew/crew.ts';
import { exportStudy } from '../../app/study/export/study-export.ts';
import { drawStudy } from '../../app/study/figures/draw-study.ts';
import { participantsNeeded } from '../../app/study/figures/study-figures.ts';
import { withoutCaptures, withWorkers } from '../../app/study/recompute/on-workers.ts';
import { programSha256 } from '../../app/study/recompute/program.ts';
import { type RecomputeCrew, recomputeStudy } from '../../app/study/recompute/recompute.ts';
import type { StudyStore } from '../../app/study/sessions/session-result.ts';
import type { StudyFolder } from '../../app/study/study-folder.ts';
import { recomputedText, setAsideLines, studyExportText } from '../../app/study/study-text.ts';
import { SOFTWARE_VERSION } from '../../base/version.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import { say } from '../print-out.ts';
import { type OnProgress, withProgress } from '../progress.ts';
import { chosenDatabase, type Kept, withStore } from '../with-store.ts';
import { opened } from './opened.ts';

const thisProgram = () => ({
  softwareVersion: SOFTWARE_VERSION,
  programSha256: programSha256(realpathSync(process.argv[1]!)),
});

/** What goes through all sessions has: the study, its feeds, threads that compute, this program. */
interface Computing {
  study: StudyFolder;
  store: FeedStore;
  crew: Crew;
  how: { softwareVersion: string; programSha256: string; onProgress: OnProgress };
}

/** @throws PlainError */
const computed = <T>(code: string, options: Kept, what: string, act: (one: Computing) => Promise<T>) =>
  withStore(options, (store) => {
    const study = opened(code, store.files);
    return withCrew((crew) =>
      withProgress(what, (onProgress) => act({ study, store, crew, how: { ...thisProgram(), onProgress } })),
    );
  });

const folderFor = (out: string | undefined, name: string): string =>
  resolve(out ?? `${name}-${new Date().toISOString().slice(0, 10)}`);

export async function exportCommand(
  code: string,
  options: Kept & { out?: string; raw?: boolean },
): Promise<void> {
  const out = folderFor(options.out, code);
  const done = await computed(code, options, 'Exporting sessions', ({ study, store, crew, how }) =>
    exportStudy(study, store, crew, { out, raw: options.raw ?? false, ...how }),
  );
  say(studyExportText(done));
}

const NOBODY_WORKS =
  'Nothing was computed yet. It is done by "ebbline work" of this very program on this database; meanwhile this waits. Ctrl-C ends it; given again, it goes on.';

/** In a database the workers of a house compute. @throws PlainError */
export const recomputeCommand = (code: string, options: Kept): Promise<void> =>
  withStore(options, async (store) => {
    const study = opened(code, store.files);
    const program = thisProgram();
    const recompute = (crew: RecomputeCrew, feeds: StudyStore) =>
      withProgress('Computing sessions', (onProgress) =>
        recomputeStudy(study, feeds, crew, { ...program, onProgress }),
      );
    const database = chosenDatabase();
    const waits = (): void => void process.stderr.write(`${NOBODY_WORKS}\n`);
    const done =
      database === null
        ? await withCrew((crew) => recompute(crew, store))
        : await withWorkers(database, study, program.programSha256, waits, (crew) =>
            recompute(crew, withoutCaptures(store)),
          );
    say(recomputedText(done, SOFTWARE_VERSION));
  });

export const figuresCommand = async (code: string, options: Kept & { out?: string }): Promise<void> => {
  const out = folderFor(options.out, `${code}-figures`);
  const { drawn, blinded } = await computed(
    code,
    options,
    'Computing sessions',
    async ({ study, store, crew, how }) => ({
      drawn: await drawStudy(study, store, crew, { ...how, out }),
      blinded: isBlinded(study),
    }),
  );
  say([
    `${drawn.files} files of ${drawn.sessions} sessions in ${out}`,
    blinded && 'Arms are coded until the study is closed.',
    ...setAsideLines(drawn.setAside),
  ]);
};

export function sizeCommand({ sd, half }: { sd: number; half: number }): void {
  const each = participantsNeeded(sd, half);
  say(
    each === null
      ? 'More than 100,000 participants in each arm.'
      : `${each} participants in each arm, for a difference that is known to ± ${half} (95 %) where participants vary by ${sd}.`,
  );
}
