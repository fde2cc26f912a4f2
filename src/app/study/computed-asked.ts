/** What goes through all sessions of a study, as the command line asks for it; each is computed by threads, at the lowest priority. */
import { resolve } from 'node:path';
import { SOFTWARE_VERSION } from '../../base/version.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import type { DatabaseChoice } from '../../store/postgres/address.ts';
import { isBlinded } from './blinding.ts';
import { withCrew } from './crew/crew.ts';
import { exportStudy } from './export/study-export.ts';
import { drawStudy } from './figures/draw-study.ts';
import { withoutCaptures, withWorkers } from './recompute/on-workers.ts';
import { thisProgram } from './recompute/program.ts';
import { type RecomputeCrew, recomputeStudy } from './recompute/recompute.ts';
import type { StudyStore } from './sessions/session-result.ts';
import { openedStudy } from './study-folder.ts';
import { figuresText, NOBODY_WORKS, recomputedText, studyExportText } from './study-text.ts';

type OnProgress = (done: number, of: number) => void;

const folderFor = (out: string | undefined, name: string): string =>
  resolve(out ?? `${name}-${new Date().toISOString().slice(0, 10)}`);

/** @returns what was written, in words @throws PlainError study-unknown, study-newer and what is wrong with the folder */
export async function exportAsAsked(
  store: FeedStore,
  { study: code, out, raw = false }: { study: string; out?: string; raw?: boolean },
  onProgress: OnProgress,
) {
  const study = openedStudy(store.files, code);
  const how = { out: folderFor(out, code), raw, ...thisProgram(), onProgress };
  return studyExportText(await withCrew((crew) => exportStudy(study, store, crew, how)));
}

/** @returns what was drawn, in words @throws PlainError as an export */
export async function figuresAsAsked(
  store: FeedStore,
  { study: code, out: asked }: { study: string; out?: string },
  onProgress: OnProgress,
) {
  const study = openedStudy(store.files, code);
  const out = folderFor(asked, `${code}-figures`);
  const drawn = await withCrew((crew) =>
    drawStudy(study, store, crew, { out, ...thisProgram(), onProgress }),
  );
  return figuresText(drawn, out, isBlinded(study));
}

/**
 * @param database  whose workers compute; null: this computer does
 * @param tell  told once if no worker gives a result
 * @returns which results changed, in words
 * @throws PlainError study-unknown, study-newer, study-job-failed
 */
export async function recomputeAsAsked(
  store: FeedStore,
  { study: code, database }: { study: string; database: DatabaseChoice | null },
  onProgress: OnProgress,
  tell: (text: string) => void,
) {
  const study = openedStudy(store.files, code);
  const program = thisProgram();
  const recompute = (crew: RecomputeCrew, feeds: StudyStore) =>
    recomputeStudy(study, feeds, crew, { ...program, onProgress });
  const done =
    database === null
      ? await withCrew((crew) => recompute(crew, store))
      : await withWorkers(
          database,
          study,
          program.programSha256,
          () => tell(NOBODY_WORKS),
          (crew) => recompute(crew, withoutCaptures(store)),
        );
  return recomputedText(done, SOFTWARE_VERSION);
}
