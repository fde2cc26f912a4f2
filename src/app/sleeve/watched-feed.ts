/** A sleeve that is watched: its live feed joined to store, board, families' guidance and studies, and what goes on beside it. */
import type { SleeveBoard } from '../../../firmware-bridge/board.ts';
import { learnedCalibration } from '../../calibration/walk/history.ts';
import { createLiveFeed, type LiveFeed } from '../../feed/live/live.ts';
import { newFeedId } from '../../store/database/feed-id.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import { guideFrom } from '../babies/babies-service.ts';
import { bindSessions, guideInStudy } from '../study/study-feeds.ts';
import { STUDY_CLOCK, studiesAmong } from '../study/study-folder.ts';
import { guideWithTeats } from '../teats/teat-passports.ts';
import { boardOutputs } from './board-outputs.ts';
import { checkedFeeds, type KeptHistory, keptHistory } from './checked-feeds.ts';
import { fetchAloneFeeds } from './fetched-alone.ts';
import { ownerKeyIn } from './owner-key.ts';
import type { ReadySleeve } from './sleeves.ts';

export interface Watching {
  simulated: boolean;
  /** With a doll and water. */
  practice: boolean;
  folder: string;
  store: FeedStore;
  pages: { readonly open: number };
  say: (text: string) => void;
  warn: (text: string) => void;
}

/** @param closing takes what ends it, in the order in which it was begun */
export function watchSleeve(
  watching: Watching,
  sleeve: ReadySleeve,
  board: SleeveBoard,
  closing: (() => unknown)[],
): { live: LiveFeed; history: KeptHistory } {
  const { practice, folder, store, say } = watching;
  const history = keptHistory(store, sleeve.sleeveId, sleeve.calibration);
  const live = watchedFeed(watching, sleeve, board, history);
  closing.push(() => live.stop());
  if (!practice) {
    const bound = bindSessions(live, {
      studies: studiesAmong(store.files),
      clock: STUDY_CLOCK,
      say: watching.warn,
    });
    closing.push(() => bound.unsubscribe());
    const fetching = fetchAloneFeeds({
      link: sleeve.link,
      owner: ownerKeyIn(folder),
      store,
      wallNowMs: Date.now,
      onKept: (count) =>
        say(
          `${count === 1 ? 'One feed' : `${count} feeds`} by the sleeve alone, while no computer guided, fetched and kept: see Feeds on the page.`,
        ),
    });
    closing.push(() => fetching.unsubscribe());
  }
  sleeve.onOther?.((other) => {
    live.changeSleeve(other);
    if (other)
      say(`Another sleeve is connected now, number ${other.sleeveId}; its own calibration is taken.`);
  });
  return { live, history };
}

/** The live feed of a sleeve, with the check of its calibration beside it. */
function watchedFeed(
  { simulated, practice, store, pages }: Watching,
  { link, calibration, sleeveId }: ReadySleeve,
  board: SleeveBoard,
  history: KeptHistory,
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
