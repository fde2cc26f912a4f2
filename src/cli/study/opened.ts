import { STUDY_CLOCK, StudyFolder, studiesIn } from '../../app/study/study-folder.ts';
import { dataFolder } from '../../store/data-folder.ts';

export interface Simulated {
  simulated?: boolean;
}

export const studiesOf = ({ simulated = false }: Simulated): string => studiesIn(dataFolder({ simulated }));
/** @throws PlainError study-unknown, study-newer */
export const opened = (code: string, options: Simulated): StudyFolder =>
  StudyFolder.open(studiesOf(options), code, STUDY_CLOCK);
