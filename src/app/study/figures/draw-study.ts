/** All sessions of a study as figures in a folder; who is in them is listed, and the study's audit says so. */
import type { Crew } from '../crew/crew.ts';
import { noteHandedOut } from '../handed-out.ts';
import type { StudyStore } from '../sessions/session-result.ts';
import type { ListedAside } from '../sessions/set-aside-list.ts';
import type { StudyFolder } from '../study-folder.ts';
import { studyBriefs } from './study-briefs.ts';
import { writeFigures } from './study-figures.ts';

export interface DrawnStudy {
  files: number;
  sessions: number;
  setAside: ListedAside[];
}

/** @throws PlainError figures-taken, and those of the store */
export async function drawStudy(
  study: StudyFolder,
  store: StudyStore,
  crew: Crew,
  { out, programSha256, onProgress }: DrawOptions,
): Promise<DrawnStudy> {
  const { briefs, setAside } = await studyBriefs(study, store, crew, programSha256, onProgress);
  const files = await writeFigures(study.protocol, briefs, out);
  noteHandedOut(
    study,
    out,
    briefs.map(({ participant }) => participant),
  );
  study.audit('drawn', `${briefs.length} sessions`);
  return { files: files.length, sessions: briefs.length, setAside };
}

interface DrawOptions {
  out: string;
  programSha256: string;
  onProgress: (done: number, of: number) => void;
}
