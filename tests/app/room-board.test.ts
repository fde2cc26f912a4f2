import { Subject, VirtualTimeScheduler } from 'rxjs';
import { describe, expect, it } from 'vitest';
import { RoomBoard, type RoomSource } from '../../src/app/ward/room-board.ts';
import type { BoardView } from '../../src/ward/board/board-view.ts';
import type { SleeveState } from '../../src/ward/board/sleeve-state.ts';
import { sleeveState } from '../support/sleeve-states.ts';

function boardIn() {
  const scheduler = new VirtualTimeScheduler();
  const told$ = new Subject<{ state: SleeveState; isOfNow: boolean }>();
  let isCutOff = false;
  const source: RoomSource = { told$, isCutOff: () => isCutOff, close: async () => {} };
  const board = new RoomBoard(
    source,
    { site: 'north', room: '2', cotOf: (sleeve) => `C${sleeve}` },
    scheduler,
  );
  const views: BoardView[] = [];
  board.view$.subscribe((view) => views.push(view));
  const until = (ms: number) => {
    scheduler.maxFrames = ms;
    scheduler.flush();
  };
  const tell = (part: Partial<SleeveState>, isOfNow = true) =>
    told$.next({ state: sleeveState(part), isOfNow });
  return { board, views, until, tell, cut: (on: boolean) => (isCutOff = on) };
}

describe('a room’s board', () => {
  it('speaks a quarter of a second after something changed, and once a second otherwise', () => {
    const { views, until, tell } = boardIn();
    until(250);
    expect(views).toHaveLength(1);
    until(1100);
    expect(views).toHaveLength(1);
    tell({ showing: 'tilt-down' });
    until(1250);
    expect(views).toHaveLength(2);
    expect(views[1]).toMatchObject({
      site: 'north',
      room: '2',
      isDemo: false,
      cots: [{ cot: 'C1', need: 'cue' }],
    });
    until(2250);
    expect(views).toHaveLength(3);
  });

  it('keeps the newer word where a broker’s kept one comes after it', () => {
    const { board, views, until, tell } = boardIn();
    tell({ showing: 'burp' });
    tell({ showing: 'gentle' }, false);
    until(250);
    expect(views.at(-1)!.cots[0]).toMatchObject({ showing: 'burp' });
    expect(board.stateOf(1)).toMatchObject({ showing: 'burp' });
    expect(board.stateOf(2)).toBeNull();
  });

  it('takes a feed that lost its guidance for one that goes on', () => {
    const { views, until, tell } = boardIn();
    tell({ showing: 'gentle' });
    tell({ showing: 'no-guidance', feedState: 'none', feedForSec: null, cause: 'lost' });
    until(250);
    expect(views.at(-1)!.cots[0]).toMatchObject({ need: 'look', showing: 'no-guidance', cause: 'lost' });
    tell({ showing: 'waiting', feedState: 'none', feedForSec: null });
    until(500);
    expect(views.at(-1)!.cots[0]).toMatchObject({ need: 'waiting' });
  });

  it('says that nothing can be heard', () => {
    const { views, until, cut } = boardIn();
    cut(true);
    until(250);
    expect(views.at(-1)).toMatchObject({ isCutOff: true });
  });
});
