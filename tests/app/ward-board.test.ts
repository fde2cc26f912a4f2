/** The board of a house that knows its children, from the binding to the end of the feed; and what whoever leads arranges. */
import { Subject, VirtualTimeScheduler } from 'rxjs';
import { describe, expect, it } from 'vitest';
import {
  type Arranging,
  arrive,
  consent,
  endConsent,
  leave,
  makeLabels,
} from '../../src/app/ward/arranging.ts';
import type { RoomSource } from '../../src/app/ward/room-board.ts';
import { wardBoard } from '../../src/app/ward/ward-board.ts';
import { PlainError } from '../../src/base/errors.ts';
import type { BoardView } from '../../src/ward/board/board-view.ts';
import type { SleeveState } from '../../src/ward/board/sleeve-state.ts';
import { readCode } from '../../src/ward/labels/code.ts';
import { sleeveState } from '../support/sleeve-states.ts';
import { ANA, CODES, NOON, wardHouse } from '../support/ward-house.ts';

const FORMULA = { ml: 90, from: null, kind: 'formula' } as const;

function opened(house = wardHouse()) {
  const scheduler = new VirtualTimeScheduler();
  const told$ = new Subject<{ state: SleeveState; isOfNow: boolean }>();
  const heard: [sleeve: number, forSec: number][] = [];
  const stop = (sleeve: number, forSec: number) => void heard.push([sleeve, forSec]);
  const source: RoomSource = { told$, isCutOff: () => false, stop, close: async () => {} };
  const options = { site: 'north', room: '2', zone: 'UTC', nowMs: () => NOON + scheduler.now() };
  const { board, service, trouble } = wardBoard(house.store, source, options, scheduler);
  let view: BoardView | null = null;
  board.view$.subscribe((now) => {
    view = now;
  });
  const until = (ms: number): BoardView => {
    scheduler.maxFrames = ms;
    scheduler.flush();
    return view!;
  };
  const tell = (part: Partial<SleeveState>) =>
    told$.next({ state: sleeveState({ sleeve: 7, ...part }), isOfNow: true });
  service.fill({ bottle: CODES.bottle, child: CODES.first, ml: 90, from: null, kind: 'formula' }, ANA);
  return { ...house, service, trouble, until, tell, heard };
}

describe('the board of a house that knows its children', () => {
  it('names the cot that a sleeve is bound to, and lets go of both once the feed is over', () => {
    const { service, until, tell, store } = opened();
    tell({ showing: 'gentle' });
    expect(until(250).cots[0]).toMatchObject({ sleeve: 7, cot: null });
    tell({ showing: 'waiting', feedState: 'none', feedForSec: null });
    service.bind([CODES.sleeve, CODES.first, CODES.bottle], ANA);
    expect(until(500).cots[0]).toMatchObject({ cot: 'A1', need: 'waiting' });
    tell({ showing: 'burp' });
    expect(until(750).cots[0]).toMatchObject({ cot: 'A1', need: 'cue' });
    expect(service.bind([CODES.second, CODES.sleeve], ANA)).toMatchObject({ stop: 'sleeve-feeding' });
    tell({ showing: 'waiting', feedState: 'none', feedForSec: null });
    expect(until(1000).cots[0]).toMatchObject({ cot: null });
    expect(store.ward(({ records }) => [records.bindings(), records.fillings()])).toEqual([[], []]);
    // The milk in the bottle was used up: it must be filled again before another feed.
    expect(service.bind([CODES.first, CODES.bottle], ANA)).toMatchObject({ stop: 'bottle-empty' });
  });

  it('says on the board what was stopped, until that child’s own bottle is bound, or for a minute', () => {
    const { service, until } = opened();
    service.bind([CODES.second, CODES.bottle], ANA);
    expect(until(250).stopped).toEqual([{ cot: 'A2', sleeve: null, code: 'wrong-child' }]);
    service.bind([CODES.first, CODES.bottle, CODES.sleeve], ANA);
    expect(until(500).stopped).toHaveLength(1);
    service.fill({ bottle: CODES.other, child: CODES.second, ml: 90, from: null, kind: 'formula' }, ANA);
    service.release(CODES.sleeve, ANA);
    service.bind([CODES.second, CODES.other, CODES.sleeve], ANA);
    expect(until(750).stopped).toEqual([]);
    service.bind([CODES.first, CODES.other], ANA);
    expect(until(1000).stopped).toHaveLength(1);
    expect(until(62_000).stopped).toEqual([]);
  });

  it('has a wrong bottle seen and heard on the sleeve that was scanned or is bound to the child, until it is put right', () => {
    const { service, heard, tell } = opened();
    // No sleeve was scanned yet, so no sleeve can be told.
    service.bind([CODES.second, CODES.bottle], ANA);
    expect(heard).toEqual([]);
    service.bind([CODES.sleeve, CODES.second, CODES.bottle], ANA);
    expect(heard).toEqual([[7, 60]]);
    service.bind([CODES.first, CODES.bottle, CODES.sleeve], ANA);
    expect(heard.slice(1)).toEqual([[7, 0]]);
    service.fill({ bottle: CODES.other, child: CODES.second, ml: 90, from: null, kind: 'formula' }, ANA);
    service.bind([CODES.first, CODES.other], ANA);
    expect(heard.slice(2)).toEqual([[7, 60]]);
    // No sleeve is stopped for what is not the bottle's fault, nor while a feed runs on it.
    service.bind([CODES.second, CODES.other, CODES.sleeve], ANA);
    tell({ showing: 'burp' });
    service.bind([CODES.first, CODES.other], ANA);
    expect(heard.slice(3)).toEqual([]);
  });
});

describe('the board of a house whose store takes nothing for a while', () => {
  it('goes on, releases a feed that is over, and stores both once the store is back', () => {
    const house = wardHouse();
    let isAway = false;
    const { store } = house;
    const taken: typeof store.ward = store.ward.bind(store);
    store.ward = (act) => {
      if (isAway) throw new PlainError('store-full', 'The store is full.', 'Free some space.');
      return taken(act);
    };
    const { service, trouble, until, tell } = opened(house);
    service.bind([CODES.sleeve, CODES.first, CODES.bottle], ANA);
    tell({ showing: 'burp' });
    expect(until(250).cots[0]).toMatchObject({ cot: 'A1' });

    isAway = true;
    expect(until(4000).cots[0]).toMatchObject({ cot: 'A1', need: 'cue' });
    expect(trouble()?.text).toBe('The store is full. Free some space.');
    service.opened(ANA);
    tell({ showing: 'waiting', feedState: 'none', feedForSec: null });
    expect(until(5000).cots[0]).toMatchObject({ cot: null });
    expect(() => service.bind([CODES.first], ANA)).toThrow('The store is full.');

    isAway = false;
    expect(until(8000).cots[0]).toMatchObject({ cot: null });
    expect(trouble()).toBeNull();
    expect(house.store.ward(({ records }) => [records.bindings(), records.fillings()])).toEqual([[], []]);
    const looked = house.trail().find(({ act }) => act === 'opened-board');
    expect(looked).toMatchObject({ atMs: NOON + 4000, person: 'p-ana' });
    expect(house.store.ward(({ trail }) => trail.firstBroken())).toBeNull();
  });
});

describe('what whoever leads arranges', () => {
  const arranging = () => {
    const house = wardHouse();
    let state = 1;
    const random = (below: number) => {
      state = (state * 48_271) % 2_147_483_647;
      return state % below;
    };
    const lead: Arranging = {
      store: house.store,
      who: { person: 'p-lead', role: 'lead' },
      nowMs: () => NOON,
      random,
    };
    return { ...house, lead };
  };
  const NONE = {
    children: [],
    bottles: 0,
    sleeves: [],
    names: false,
    language: 'en',
    paper: 'letter',
  } as const;

  it('prints a label for each, with the cot beside the code; the one before counts no more', () => {
    const { lead, service } = arranging();
    const { labels } = makeLabels(lead, { ...NONE, children: ['Ilo'], bottles: 2, sleeves: [7] });
    expect(labels.map(({ kind, caption }) => [kind, caption])).toEqual([
      ['child', 'A1'],
      ['bottle', ''],
      ['bottle', ''],
      ['sleeve', '7'],
    ]);
    for (const { code } of labels) expect(readCode(code)).toBe(code);
    expect(JSON.stringify(labels)).not.toContain('Ilo');
    expect(service.bind([CODES.first], ANA)).toMatchObject({ stop: 'label-replaced' });
    expect(service.bind([labels[0]!.code], ANA)).toMatchObject({ state: 'more' });
    expect(makeLabels(lead, { ...NONE, children: ['Uma'], names: true }).labels[0]).toMatchObject({
      caption: 'Uma',
    });
    expect(() => makeLabels(lead, NONE)).toThrow(/No labels/);
  });

  it('puts a child in a cot that is free, and lets it leave with its label', () => {
    const { lead, service, store } = arranging();
    expect(() => arrive(lead, { child: 'Uma', cot: 'A1' })).toThrow(/another child/);
    arrive(lead, { child: 'Uma', cot: 'B1' });
    expect(service.children(ANA).map(({ name, cot }) => [name, cot])).toEqual([
      ['Ilo', 'A1'],
      ['Uma', 'B1'],
    ]);
    leave(lead, 'Ilo');
    expect(service.bind([CODES.first], ANA)).toMatchObject({ stop: 'child-left' });
    expect(() => leave(lead, 'Ilo')).toThrow(/in no cot/);
    expect(() => arrive(lead, { child: 'Nobody', cot: 'C1' })).toThrow(/No child called/);
    expect(() => makeLabels(lead, { ...NONE, children: ['Ilo'] })).toThrow(/in no cot/);
    expect(store.ward(({ trail }) => trail.firstBroken())).toBeNull();
  });

  it('releases the sleeve of a child who leaves before the feed begins, and not the one of a running feed', () => {
    const { lead, service, store } = arranging();
    const sleeves = () => store.ward(({ records }) => records.bindings()).map(({ sleeve }) => sleeve);
    service.fill({ bottle: CODES.bottle, child: CODES.first, ...FORMULA }, ANA);
    service.bind([CODES.first, CODES.bottle, CODES.sleeve], ANA);
    expect(sleeves()).toEqual([7]);
    leave(lead, 'Ilo');
    expect(sleeves()).toEqual([]);
    service.fill({ bottle: CODES.other, child: CODES.second, ...FORMULA }, ANA);
    service.bind([CODES.second, CODES.other, CODES.sleeve], ANA);
    store.ward(({ records }) => records.nameFeed(7, 'running'));
    leave(lead, 'Uma');
    expect(sleeves()).toEqual([7]);
  });

  it('writes a consent down and takes it back, each in the trail', () => {
    const { lead, service, trail } = arranging();
    const own = () => service.ownChildren('p-m', { person: 'p-m', role: 'parent' }).children.length;
    expect(() => consent(lead, { child: 'Ilo', what: 'parent', person: null, untilMs: null })).toThrow(
      /sign-in/,
    );
    consent(lead, { child: 'Ilo', what: 'parent', person: 'p-m', untilMs: null });
    expect(own()).toBe(1);
    expect(endConsent(lead, { child: 'Ilo', what: 'parent', person: null })).toBe(1);
    expect(own()).toBe(0);
    expect(trail().map(({ act }) => act)).toEqual(['consent-given', 'looked-at-feeds', 'consent-ended']);
  });
});
