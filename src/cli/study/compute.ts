/** `ebbline study …`: the commands that go through all sessions, and what is told of them. */
import { realpathSync } from 'node:fs';
import { resolve } from 'node:path';
import { isBlinded } from '../../app/study/blinding.ts';
import { type Crew, withCrew } from '../../app/study/crew/crew.ts';
import { exportStudy } from '../../app/study/export/study-export.ts';
import { drawStudy } from '../../app/study/figures/draw-study.ts';
import { participantsNeeded } from '../../app/study/figures/study-figures.ts';
import { programSha256 } from '../../app/study/recompute/program.ts';
import { recomputeStudy } from '../../app/study/recompute/recompute.ts';
import type { StudyFolder } from '../../app/study/study-folder.ts';
import { recomputedText, setAsideLines, studyExportText } from '../../app/study/study-text.ts';
import { SOFTWARE_VERSION } from '../../base/version.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import { say } from '../print-out.ts';
import { type OnProgress, withProgress } from '../progress.ts';
import { type Kept, withStore } from '../with-store.ts';
import { opened } from './opened.ts';

/** What goes through all sessions has: the study, its feeds, threads that compute, this program. */
interface Computing {
  study: StudyFolder;
  store: FeedStore;
  crew: Crew;
  how: { softwareVersion: string; programSha256: string; onProgress: OnProgress };
}

/** @throws PlainError */
function computed<T>(code: string, options: Kept, what: string, act: (one: Computing) => Promise<T>) {
  const study = opened(code, options);
  const sha256 = programSha256(realpathSync(process.argv[1]!));
  const program = { softwareVersion: SOFTWARE_VERSION, programSha256: sha256 };
  return withStore(options, (store) =>
    withCrew((crew) =>
      withProgress(what, (onProgress) => act({ study, store, crew, how: { ...program, onProgress } })),
    ),
  );
}

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

export async function recomputeCommand(code: string, options: Kept): Promise<void> {
  const done = await computed(code, options, 'Computing sessions', ({ study, store, crew, how }) =>
    recomputeStudy(study, store, crew, how),
  );
  say(recomputedText(done, SOFTWARE_VERSION));
}

export async function figuresCommand(code: string, options: Kept & { out?: string }): Promise<void> {
  const out = folderFor(options.out, `${code}-figures`);
  const drawn = await computed(code, options, 'Computing sessions', ({ study, store, crew, how }) =>
    drawStudy(study, store, crew, { ...how, out }),
  );
  say([
    `${drawn.files} files of ${drawn.sessions} sessions in ${out}`,
    isBlinded(opened(code, options)) && 'Arms are coded until the study is closed.',
    ...setAsideLines(drawn.setAside),
  ]);
}

export function sizeCommand({ sd, half }: { sd: number; half: number }): void {
  const each = participantsNeeded(sd, half);
  say(
    each === null
      ? 'More than 100,000 participants in each arm.'
      : `${each} participants in each arm, for a difference that is known to ± ${half} (95 %) where participants vary by ${sd}.`,
  );
}
