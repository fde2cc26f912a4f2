/** Views of a board, for tests and benches. */
import type { BoardCot, BoardView } from '../../src/ward/board/board-view.ts';

export const boardCot = (part: Partial<BoardCot> = {}): BoardCot => ({
  sleeve: 1,
  cot: 'A1',
  need: 'quiet',
  showing: 'gentle',
  forMin: 0,
  feedMin: 5,
  cause: null,
  quality: null,
  calibration: null,
  ...part,
});

export const boardView = (cots: readonly BoardCot[], part: Partial<BoardView> = {}): BoardView => ({
  site: 'north',
  room: '2',
  isDemo: false,
  isCutOff: false,
  stopped: [],
  cots: [...cots],
  ...part,
});
