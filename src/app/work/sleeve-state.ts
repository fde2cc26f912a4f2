/** The state of a sleeve as a worker publishes it to the boards of a room. */

import type { LiveView } from '../../feed/live/live-view.ts';
import { CALIBRATION_DOUBTS } from '../../pacing/cues/words-calibration.ts';
import type { SleeveMessage } from '../../ward/board/sleeve-message.ts';
import { calibrationCode } from '../../ward/board/sleeve-state.ts';

/** @param shownForSec  time since `view.showing` began, s */
export const stateOf = (
  view: Pick<
    LiveView,
    'showing' | 'feedState' | 'feedElapsedSec' | 'qualityReason' | 'because' | 'cause' | 'calibration'
  >,
  of: Pick<SleeveMessage, 'sleeveNumber' | 'worker' | 'epoch'>,
  shownForSec: number,
): SleeveMessage => ({
  version: 1,
  ...of,
  showing: view.showing,
  shownForSec,
  feedForSec: view.feedState === 'open' ? view.feedElapsedSec : null,
  doubt: view.showing === 'cannot-tell' ? view.qualityReason : null,
  trouble: troubleOf(view),
});

function troubleOf({
  showing,
  because,
  cause,
  calibration,
}: Pick<LiveView, 'showing' | 'because' | 'cause' | 'calibration'>): SleeveMessage['trouble'] {
  if (showing === 'no-guidance' && typeof because === 'string')
    return { code: cause ?? 'silent', text: because };
  return calibration
    ? { code: calibrationCode(calibration), text: CALIBRATION_DOUBTS.en[calibration] }
    : null;
}

/** State of a sleeve that nobody guides. */
export const unguidedState = (
  of: Pick<SleeveMessage, 'sleeveNumber' | 'worker' | 'epoch'>,
  { code, text }: { code: string; text: string },
): SleeveMessage => ({
  version: 1,
  ...of,
  showing: 'no-guidance',
  shownForSec: 0,
  feedForSec: null,
  doubt: null,
  trouble: { code, text },
});
