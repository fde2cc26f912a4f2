import { describe, expect, it } from 'vitest';
import { boardCots, type Heard, SILENT_MS } from '../../src/ward/board/board-view.ts';
import { demoRoom } from '../../src/ward/board/demo-room.ts';
import { NEEDS } from '../../src/ward/board/needs.ts';
import { readSleeveState, type SleeveState } from '../../src/ward/board/sleeve-state.ts';
import { sleeveState } from '../support/sleeve-states.ts';

const heard = (part: Partial<SleeveState>, atMs: number | null = 0, firstAtMs = 0): Heard => ({
  state: sleeveState(part),
  atMs,
  firstAtMs,
});
const cots = (all: Heard[], nowMs = 0) =>
  boardCots(all, (sleeve) => (sleeve < 50 ? `A${sleeve}` : null), nowMs);

describe('the board of a room', () => {
  it('says of each cot what is shown and for how long, in whole minutes', () => {
    const [first, second] = cots([
      heard({ sleeve: 1, showing: 'gentle' }),
      heard({ sleeve: 2, showing: 'tilt-down', shownForSec: 20, feedForSec: 125 }),
    ]);
    expect(first).toEqual({
      sleeve: 2,
      cot: 'A2',
      need: 'cue',
      showing: 'tilt-down',
      forMin: 0,
      feedMin: 2,
      cause: null,
      quality: null,
      calibration: null,
    });
    expect(second).toMatchObject({ sleeve: 1, need: 'quiet', showing: 'gentle' });
  });

  it('counts on between two messages of a sleeve', () => {
    const cue = heard({ showing: 'tilt-down', shownForSec: 44 });
    expect(cots([cue], 0)[0]!.need).toBe('cue');
    expect(cots([cue], 1000)[0]!.need).toBe('again');
  });

  it('says nothing of amounts, nor whose cot it is, nor a place in any list', () => {
    const [cot] = cots([heard({ showing: 'tilt-down' })]);
    expect(Object.keys(cot!).sort()).toEqual(
      ['calibration', 'cause', 'cot', 'feedMin', 'forMin', 'need', 'quality', 'showing', 'sleeve'].sort(),
    );
  });

  it('a doubt about the calibration is told with the cue, moves no cot, and ends with the feed', () => {
    const told = { calibration: 'zero-moved' } as const;
    const [first, second] = cots([heard({ sleeve: 2, ...told }), heard({ sleeve: 1 })]);
    expect([first, second]).toMatchObject([
      { sleeve: 1, calibration: null },
      { sleeve: 2, calibration: 'zero-moved', need: 'quiet', showing: 'gentle' },
    ]);
    expect(cots([heard({ ...told, feedState: 'ended' })])[0]).toMatchObject({ calibration: null });
    // Nobody knows whether it still holds.
    expect(cots([heard(told)], SILENT_MS)[0]).toMatchObject({ showing: 'no-guidance', calibration: null });
  });

  it('a feed without new messages has no guidance, whatever was told last', () => {
    const quiet = heard({ showing: 'gentle' });
    expect(cots([quiet], SILENT_MS - 1)[0]).toMatchObject({ showing: 'gentle' });
    expect(cots([quiet], SILENT_MS)[0]).toMatchObject({
      showing: 'no-guidance',
      need: 'look',
      cause: 'silent',
    });
    expect(cots([quiet], 5 * 60_000)[0]).toMatchObject({ forMin: 5 });
    expect(cots([quiet], 30 * 60_000)).toEqual([]);
  });

  it('a sleeve that nobody will guide is not ready; it stands after all babies that somebody must look at', () => {
    const idle = { feedState: 'none', feedForSec: null, showing: 'no-guidance', shownForSec: 900 } as const;
    const told = cots([
      heard({ sleeve: 1, ...idle, cause: 'sleeve-unknown' }),
      heard({ sleeve: 2, ...idle, cause: 'not-guided' }),
      heard({ sleeve: 3, ...idle, cause: 'lost' }),
      heard({ sleeve: 4, showing: 'cannot-tell', shownForSec: 2 }),
    ]);
    expect(told.map(({ sleeve, need, showing }) => [sleeve, need, showing])).toEqual([
      [4, 'look', 'cannot-tell'],
      [1, 'look', 'no-guidance'],
      [2, 'look', 'no-guidance'],
      [3, 'waiting', 'waiting'],
    ]);
  });

  it('what a broker kept is no word of now: first nothing, then that nobody tells of that feed', () => {
    const kept = heard({ showing: 'gentle' }, null);
    expect(cots([kept], 0)).toEqual([]);
    expect(cots([kept], SILENT_MS)[0]).toMatchObject({ showing: 'no-guidance' });
    expect(cots([heard({ feedState: 'ended', showing: 'waiting' }, null)], SILENT_MS)).toEqual([]);
  });

  it('a feed that is over leaves after ten minutes, a sleeve that is gone after one', () => {
    const over = (shownForSec: number) => heard({ feedState: 'ended', showing: 'waiting', shownForSec });
    expect(cots([over(599)])[0]).toMatchObject({ showing: 'ended', need: 'quiet', feedMin: null });
    expect(cots([over(600)])).toEqual([]);
    const ready = heard({ feedState: 'none', showing: 'waiting', feedForSec: null });
    expect(cots([ready], 59_999)[0]).toMatchObject({ showing: 'waiting', need: 'waiting' });
    expect(cots([ready], 60_000)).toEqual([]);
  });
});

describe('what is told of a sleeve', () => {
  const message = {
    version: 1,
    sleeveNumber: 7,
    worker: '0123456789abcdef',
    epoch: 3,
    showing: 'burp',
    shownForSec: 4,
    feedForSec: 200,
    doubt: null,
    trouble: null,
  };

  it('is read, with what a later program tells besides passed over', () => {
    const state = { sleeve: 7, showing: 'burp', shownForSec: 4, feedForSec: 200, feedState: 'open' };
    expect(readSleeveState({ ...message, later: 1 })).toMatchObject(state);
    const lost = {
      ...message,
      showing: 'no-guidance',
      feedForSec: null,
      trouble: { code: 'lost', text: 'Out.' },
    };
    expect(readSleeveState(lost)).toMatchObject({ feedState: 'none', cause: 'lost' });
    expect(readSleeveState({ ...lost, trouble: { code: 'new-trouble', text: '' } })).toMatchObject({
      cause: 'not-guided',
    });
  });

  it.each([
    ['nothing', null],
    ['a cue that there is none of', { ...message, showing: 'dance' }],
    ['an age below zero', { ...message, shownForSec: -1 }],
    ['an age that is no number', { ...message, feedForSec: Number.NaN }],
    ['a number that no sleeve has', { ...message, sleeveNumber: 1.5 }],
    ['of a version that is not known', { ...message, version: 2 }],
  ])('is not taken where it is %s', (_what, data) => {
    expect(readSleeveState(data)).toBeNull();
  });
});

describe('the simulated room of the demo board', () => {
  it('tells of every need there is within half an hour, the same for the same seed', () => {
    const room = demoRoom(1, 12);
    const seen = new Set<string>();
    for (let atSec = 0; atSec < 1800; atSec += 5) {
      const states = room(atSec);
      for (const { need } of cots(states.map((state) => ({ state, atMs: 0, firstAtMs: 0 })))) seen.add(need);
    }
    expect([...seen].sort()).toEqual([...NEEDS].sort());
    expect(demoRoom(1, 3)(777)).toEqual(demoRoom(1, 3)(777));
    expect(demoRoom(2, 3)(777)).not.toEqual(demoRoom(1, 3)(777));
  });
});
