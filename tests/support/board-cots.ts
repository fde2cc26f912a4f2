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

/** Cots at which somebody should look. */
export const LOOK_COTS: readonly BoardCot[] = [
  boardCot({ sleeve: 81, cot: 'B1', need: 'look', showing: 'cannot-tell', quality: 'roll', forMin: 2 }),
  boardCot({ sleeve: 82, cot: null, need: 'look', showing: 'no-guidance', cause: 'lost' }),
];

/** Cots before, after and in a calm feed. */
export const CALM_COTS: readonly BoardCot[] = [
  boardCot({ sleeve: 83, cot: 'B3', need: 'waiting', showing: 'waiting', feedMin: null }),
  boardCot({ sleeve: 84, cot: 'B4', showing: 'ended', feedMin: null, forMin: 3 }),
  boardCot({ sleeve: 85, cot: 'B5' }),
];
