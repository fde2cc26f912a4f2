/** Heavy work on stored feeds, done by a process of its own so that guidance is never delayed. Read-only. */
import type { PaperEnding } from '../../paper/paper-ending.ts';
import { type FeedGraphOptions, feedGraphPngFromSvg, feedGraphSvg } from '../../review/index.ts';
import type { RefinedFeed } from '../../sensing/index.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import { familySurroundings, familyZone } from '../kept/family-zone.ts';
import { packingService } from '../packing/packing-service.ts';
import { keptFeed } from '../review/feed-answers.ts';
import type { Query } from '../review/review-answers.ts';
import { reviewService } from '../review/review-service.ts';
import { refinedFromCapture } from '../sleeve/recovery.ts';
import type { AskedCurves } from '../study/page/study-answers.ts';
import { studyService } from '../study/page/study-service.ts';
import { studiesAmong } from '../study/study-folder.ts';

/** All throw PlainErrors. */
export interface AsideJobs {
  graph(feedId: string, options: FeedGraphOptions): string;
  graphPng(feedId: string, options: FeedGraphOptions): Uint8Array;
  file(feedId: string, ending: PaperEnding, query: Query): Promise<string | Uint8Array>;
  compare(query: Query): string;
  dayFile(query: Query): string;
  sheet(name: 'feeding-plan' | 'day-sheet', ending: PaperEnding, query: Query): Promise<string | Uint8Array>;
  /** The pass after a feed; null if the capture or calibration is missing. */
  refined(feedId: string): RefinedFeed | null;
  /** Packs the capture of an ended feed; the raw capture stays. @returns name of the packed one; null if there is no capture */
  packCapture(feedId: string): string | null;
  /** The curves of a study's arms, from its last recomputation. */
  studyCurves(code: string, asked: AskedCurves): Promise<string>;
}

export function asideJobs(store: FeedStore): AsideJobs {
  const review = reviewService(store, familySurroundings(store));
  const packing = packingService(store, familySurroundings(store));
  const inZone = (options: FeedGraphOptions) => ({ ...options, timeZone: familyZone(store).zone });
  return {
    graph: (feedId, options) => feedGraphSvg(keptFeed(store, feedId), inZone(options)),
    graphPng: (feedId, options) =>
      feedGraphPngFromSvg(feedGraphSvg(keptFeed(store, feedId), inZone(options))),
    file: async (feedId, ending, query) => review.file(feedId, ending, query),
    compare: (query) => review.compare(query),
    dayFile: (query) => review.dayFile(query),
    sheet: async (name, ending, query) => packing.sheet(name, ending, query),
    refined: (feedId) => refinedFromCapture(store, feedId),
    packCapture: (feedId) => store.packCapture(feedId),
    studyCurves: async (code, asked) => studyService(studiesAmong(store.files)).curves(code, asked),
  };
}
