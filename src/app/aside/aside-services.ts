/** The services of the page, with heavy work done by the helper process. */
import type { KeptService } from '../kept/kept-answers.ts';
import type { PackingService } from '../packing/packing-answers.ts';
import type { ReviewService, ServedReview } from '../review/review-answers.ts';
import type { StudyService } from '../study/page/study-answers.ts';
import type { Aside } from './aside.ts';

export const reviewAside = (service: ReviewService, aside: Aside): ServedReview => ({
  ...service,
  file: (id, ending, query) => aside.run('file', id, ending, query),
  compare: (query) => aside.run('compare', query),
  dayFile: (query) => aside.run('dayFile', query),
});

export const packingAside = (service: PackingService, aside: Aside): PackingService => ({
  ...service,
  sheet: (name, ending, query) => aside.run('sheet', name, ending, query),
});

export const keptAside = (service: KeptService, aside: Aside): KeptService => ({
  ...service,
  exportLines: () => aside.exportBytes(),
});

export const studyAside = (service: StudyService, aside: Aside): StudyService => ({
  ...service,
  curves: (code, asked) => aside.run('studyCurves', code, asked),
});
