/** Joins the live feed of a sleeve with store, board, the family's guidance and studies. */
import type { SleeveBoard } from '../../../firmware-bridge/board.ts';
import { learnedCalibration } from '../../calibration/walk/history.ts';
import { createLiveFeed, type LiveFeed } from '../../feed/live/live.ts';
import { newFeedId } from '../../store/database/feed-id.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import { guideFrom } from '../babies/babies-service.ts';
import { guideInStudy } from '../study/study-feeds.ts';
import { STUDY_CLOCK, studiesAmong } from '../study/study-folder.ts';
import { guideWithTeats } from '../teats/teat-passports.ts';
import { boardOutputs } from './board-outputs.ts';
import { checkedFeeds, type KeptHistory, keptHistory } from './checked-feeds.ts';
import type { ReadySleeve } from './sleeves.ts';

/** The live feed of a sleeve, with the check of its calibration beside it. */
export function watchedFeed(
  { simulated, practice }: { simulated: boolean; practice: boolean },
  store: FeedStore,
  { link, calibration, sleeveId }: ReadySleeve,
  board: SleeveBoard,
  history: KeptHistory,
  pages: { readonly open: number },
): LiveFeed {
  const wallNowMs = () => Date.now();
  const feed = createLiveFeed({
    link,
    calibration: learnedCalibration(calibration, history.read()).calibration,
    storage: store,
    outputs: boardOutputs(board),
    newFeedId: (startedAtMs) => newFeedId(startedAtMs, Math.random),
    wallNowMs,
    simulated,
    sleeveId,
    refinesLater: true,
    isPageOpen: () => pages.open > 0,
    soundOn: store.readSoundOn(),
    keepSoundOn: (on) => store.writeSoundOn(on),
    dimmed: store.readDimmed(),
    keepDimmed: (dimmed) => store.writeDimmed(dimmed),
    // Practice with a doll has no guidance settings of its own.
    ...(!practice && {
      guide: guideInStudy(
        guideWithTeats(guideFrom(store, Date.now, simulated), store.files),
        studiesAmong(store.files),
        STUDY_CLOCK,
      ),
    }),
  });
  return checkedFeeds(feed, {
    link,
    calibration,
    history,
    historyOf: (other, itsCalibration) => keptHistory(store, other, itsCalibration),
    learns: !simulated && !practice,
    wallNowMs,
  });
}
