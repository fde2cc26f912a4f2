import { STUDY_CLOCK, StudyFolder, studiesIn } from '../../app/study/study-folder.ts';
import { dataFolder } from '../../store/data-folder.ts';
import type { Kept } from '../with-store.ts';

export const studiesOf = (options: Kept): string => studiesIn(dataFolder(options));

/** @throws PlainError study-unknown, study-newer */
export const opened = (code: string, options: Kept): StudyFolder =>
  StudyFolder.open(studiesOf(options), code, STUDY_CLOCK);
