import { STUDY_CLOCK, StudyFolder, studiesAmong } from '../../app/study/study-folder.ts';
import type { SideFiles } from '../../store/side-files.ts';
import { type Kept, withFiles } from '../with-store.ts';

/** @throws PlainError study-unknown, study-newer */
export const opened = (code: string, files: SideFiles): StudyFolder =>
  StudyFolder.open(studiesAmong(files), code, STUDY_CLOCK);

/** Runs work on a study. @throws PlainError study-unknown, study-newer */
export const withStudy = <T>(
  code: string,
  options: Kept,
  act: (study: StudyFolder) => T | Promise<T>,
): Promise<T> => withFiles(options, (files) => act(opened(code, files)));
