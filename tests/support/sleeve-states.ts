/** States of a sleeve, for tests of boards. */
import type { SleeveState } from '../../src/ward/board/sleeve-state.ts';

export const sleeveState = (part: Partial<SleeveState> = {}): SleeveState => ({
  sleeve: 1,
  showing: 'gentle',
  shownForSec: 0,
  feedId: 'feed-1',
  feedState: 'open',
  feedForSec: 300,
  cause: null,
  quality: null,
  calibration: null,
  ...part,
});
