import { describe, expect, onTestFinished, test } from 'vitest';
import type { HandFeedEntry, MilkEvent } from '../../src/feed/record/written-by-hand.ts';
import { openStore } from '../../src/store/open-store.ts';
import { fieldRefusalOf } from '../support/refusals.ts';
import { begunFeed, partOfSecond } from '../support/store-samples.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const NOW_MS = Date.UTC(2026, 0, 9, 12);
const MINUTE_MS = 60_000;
const setup = begunFeed('x').setup;

function storeAt(nowMs = NOW_MS, folder = temporaryFolder()) {
  const store = openStore(folder, { recording: true, nowMs: () => nowMs });
  onTestFinished(() => store.close());
  return store;
}

function withFeed(id: string, changes = {}, store = storeAt()) {
  store.begin(begunFeed(id, changes), null);
  for (const second of [0, 30, 90]) store.append(id, partOfSecond(second));
  store.finish(id, { endReason: 'button', endedAtMs: Date.UTC(2026, 0, 5, 9, 20), refined: null });
  return store;
}

describe('corrections', () => {
  test('stand beside the feed, never over it; of each kind the latest counts', () => {
    const store = withFeed('one');
    const before = store.get('one')!;
    expect(before).not.toHaveProperty('corrections');
    store.correct('one', { kind: 'bottle-reading', offeredMl: 90, leftMl: 10 }, 'J.');
    store.correct('one', { kind: 'bottle-reading', offeredMl: null, leftMl: 12 });
    store.correct('one', { kind: 'note', text: 'Sleepy.\nRain.' });
    store.correct('one', { kind: 'setup', setup: { babyName: 'Linnet' } });
    const times = { startedAtMs: Date.UTC(2026, 0, 4, 9), endedAtMs: Date.UTC(2026, 0, 4, 9, 20) };
    store.correct('one', { kind: 'times', ...times });

    const { corrections, corrected, ...original } = store.get('one')!;
    expect(original).toEqual(before);
    expect(corrections!.map(({ kind, by, madeAtMs }) => [kind, by, madeAtMs])).toEqual([
      ['bottle-reading', 'J.', NOW_MS],
      ['bottle-reading', null, NOW_MS],
      ['note', null, NOW_MS],
      ['setup', null, NOW_MS],
      ['times', null, NOW_MS],
    ]);
    expect(corrected).toEqual({
      ...times,
      setup: { ...setup, babyName: 'Linnet' },
      reading: { offeredMl: null, leftMl: 12 },
      note: 'Sleepy.\nRain.',
    });
    const [listed] = store.list();
    expect(listed).toMatchObject({
      setup,
      startedAtMs: before.startedAtMs,
      atMs: times.startedAtMs,
      corrected,
    });
    store.correct('one', { kind: 'note', text: '' });
    expect(store.get('one')!.corrected!.note).toBeNull();
  });

  test('steps after a feed stand with when they were noted, and are taken back', () => {
    const store = withFeed('one');
    for (const step of ['burp', 'waited'] as const) store.correct('one', { kind: 'after', step, done: true });
    expect(store.get('one')!.corrected!.after).toEqual({ burp: NOW_MS, waited: NOW_MS });
    store.correct('one', { kind: 'after', step: 'burp', done: false });
    expect(store.list()[0]!.corrected!.after).toEqual({ waited: NOW_MS });
    expect(store.get('one')!.corrections).toHaveLength(3);
  });

  test.each([
    [
      { kind: 'bottle-reading', offeredMl: 90, leftMl: 95 },
      'leftMl',
      'amount left: is more than was offered',
    ],
    [{ kind: 'bottle-reading', offeredMl: -90, leftMl: 5 }, 'offeredMl', 'must not be less than 0 mL'],
    [{ kind: 'after', step: 'dance', done: true }, 'step', 'must be a step after a feed'],
    [{ kind: 'bottle-reading', offeredMl: 9000, leftMl: 5 }, 'offeredMl', 'must be at most 1000 mL'],
    [{ kind: 'note', text: 'x'.repeat(2001) }, 'text', 'must be at most 2000 characters'],
    [
      { kind: 'setup', setup: { babyBirthDate: '2026-02-30' } },
      'setup.babyBirthDate',
      'not a day of the calendar',
    ],
    [{ kind: 'setup', setup: { babyBirthDate: '2026-01-11' } }, 'setup.babyBirthDate', 'lies in the future'],
    [
      { kind: 'setup', setup: { babyBirthDate: '1926-01-05' } },
      'setup.babyBirthDate',
      'more than 10 years back',
    ],
    [
      { kind: 'times', startedAtMs: NOW_MS + 5 * MINUTE_MS, endedAtMs: null },
      'startedAtMs',
      'start: lies in the future',
    ],
    [
      { kind: 'times', startedAtMs: NOW_MS - 1, endedAtMs: NOW_MS - 2 },
      'endedAtMs',
      'end: lies before the start',
    ],
    [{ kind: 'times', startedAtMs: 0, endedAtMs: null }, 'startedAtMs', 'lies before the year 2000'],
  ])('refused with a sentence at the field, nothing kept: %j', (content, field, says) => {
    const store = withFeed('one');
    const refusal = fieldRefusalOf(() => store.correct('one', content as never));
    expect(refusal).toMatchObject({ code: 'entry-invalid', field });
    expect(refusal.text).toContain(says);
    expect(store.get('one')).not.toHaveProperty('corrections');
  });

  test('of a feed that is not there', () => {
    expect(() => storeAt().correct('none', { kind: 'note', text: 'x' })).toThrow('There is no feed none');
  });
});

describe('feeds are found', () => {
  const at = (day: number, minute = 0) => Date.UTC(2026, 0, day, 9, minute);
  function threeFeeds() {
    const store = withFeed('a', { startedAtMs: at(5), setup: { ...setup, babyName: 'Wren' } });
    withFeed('b', { startedAtMs: at(6), setup: { ...setup, babyName: 'Linnet', teatName: 'slow' } }, store);
    withFeed('c', { startedAtMs: at(7), setup: { ...setup, bottleName: 'red cap', babyId: 'b2' } }, store);
    return store;
  }
  const ids = (feeds: readonly { id: string }[]) => feeds.map(({ id }) => id).join('');

  test.each([
    [{}, 'cba'],
    [{ limit: 2 }, 'cb'],
    [{ limit: 2, beforeMs: at(6) }, 'a'],
    [{ fromMs: at(6), toMs: at(7) }, 'b'],
    [{ onlyNames: ['wren', 'nobody'] }, 'a'],
    [{ babyId: 'b2' }, 'c'],
    [{ bottleName: 'Red Cap' }, 'c'],
    [{ teatName: 'slow' }, 'b'],
    [{ simulated: true }, ''],
    [{ simulated: false, onlyNames: ['Linnet'] }, 'b'],
  ])('by %j', (choice, found) => {
    expect(ids(threeFeeds().list(choice))).toBe(found);
  });

  test('by what they were corrected to', () => {
    const store = threeFeeds();
    store.correct('c', { kind: 'setup', setup: { babyId: null, babyName: 'Linnet' } });
    store.correct('b', { kind: 'times', startedAtMs: at(8), endedAtMs: at(8, 20) });
    expect(ids(store.list({ onlyNames: ['Linnet'] }))).toBe('bc');
    expect(ids(store.list({ fromMs: at(8), toMs: at(9) }))).toBe('b');
    expect(ids(store.list({ fromMs: at(6), toMs: at(7) }))).toBe('');
  });

  test('with their cues, by kind', () => {
    const store = withFeed('a');
    withFeed('b', {}, store);
    expect(store.list().map(({ cueCount, cueCounts }) => [cueCount, cueCounts])).toEqual([
      [2, { burp: 2 }],
      [2, { burp: 2 }],
    ]);
  });

  test('a day: feeds of the sleeve and by hand, oldest first', () => {
    const store = threeFeeds();
    withFeed('d', { startedAtMs: at(6, 30) }, store);
    const hand = store.addHandFeed(handFeed({ atMs: at(6, 10) }));
    store.addHandFeed(handFeed({ atMs: at(7) }));
    const day = store.between({ fromMs: at(6), toMs: at(7) });
    expect([ids(day.feeds), day.handFeeds.map(({ id }) => id)]).toEqual(['bd', [hand.id]]);
  });
});

const handFeed = (changes: Partial<HandFeedEntry> = {}): HandFeedEntry => ({
  kind: 'breast',
  atMs: NOW_MS - 60 * MINUTE_MS,
  durationSec: 900,
  offeredMl: null,
  leftMl: null,
  milkKind: null,
  side: 'left',
  caregiver: 'J.',
  note: null,
  babyId: 'b1',
  babyName: 'Wren',
  ...changes,
});

describe('feeds written in by hand', () => {
  test('come back as written; a correction stands beside', () => {
    const store = storeAt();
    const { id } = store.addHandFeed(handFeed());
    expect(store.getHandFeed(id)).toEqual({
      ...handFeed(),
      id,
      writtenAtMs: NOW_MS,
      withdrawn: false,
      original: handFeed(),
      corrections: [],
    });
    const entry = { kind: 'refused', offeredMl: 60, leftMl: 55, side: null, milkKind: 'expressed' } as const;
    store.correctHandFeed(id, { kind: 'entry', entry }, 'M.');
    const [kept] = store.listHandFeeds();
    expect(kept).toMatchObject({ ...handFeed(), ...entry, original: handFeed() });
    expect(kept!.corrections).toEqual([{ kind: 'entry', entry, madeAtMs: NOW_MS, by: 'M.' }]);
  });

  test('are found by range; one that never was is left out unless asked for', () => {
    const store = storeAt();
    const first = store.addHandFeed(handFeed({ atMs: NOW_MS - 3 * MINUTE_MS }));
    const second = store.addHandFeed(
      handFeed({ atMs: NOW_MS - 2 * MINUTE_MS, babyId: 'b2', babyName: 'Linnet' }),
    );
    const found = (choice: object) => store.listHandFeeds(choice).map(({ id }) => id);
    expect(found({})).toEqual([first.id, second.id]);
    expect(found({ fromMs: NOW_MS - 2 * MINUTE_MS })).toEqual([second.id]);
    expect(found({ toMs: NOW_MS - 2 * MINUTE_MS })).toEqual([first.id]);
    store.correctHandFeed(first.id, { kind: 'withdrawn' });
    expect(found({})).toEqual([second.id]);
    expect(found({ withdrawn: true })).toEqual([first.id, second.id]);
  });

  test.each([
    [{ atMs: NOW_MS + 10 * MINUTE_MS }, 'atMs', 'The feed, time: lies in the future.'],
    [{ durationSec: -1 }, 'durationSec', 'The feed, length: must not be less than 0.'],
    [
      { kind: 'bottle', offeredMl: -30 },
      'offeredMl',
      'The feed, amount offered: must not be less than 0 mL.',
    ],
    [{ kind: 'bottle', offeredMl: 60, leftMl: 61 }, 'leftMl', 'amount left: is more than was offered'],
    [{ kind: 'breast', offeredMl: 60 }, 'offeredMl', 'is for bottles'],
    [{ kind: 'snack' }, 'kind', 'must be breast, bottle or refused'],
    [{ babyName: 'a\u0007' }, 'babyName', 'must not contain control characters'],
    [{ side: 'up' }, 'side', 'must be left, right or both'],
  ])('refused with a sentence at the field, nothing kept: %j', (changes, field, says) => {
    const store = storeAt();
    const refusal = fieldRefusalOf(() => store.addHandFeed(handFeed(changes as never)));
    expect(refusal).toMatchObject({ code: 'entry-invalid', field });
    expect(refusal.text).toContain(says);
    expect(store.listHandFeeds({ withdrawn: true })).toEqual([]);
  });

  test('a correction that cannot be leaves all as it was', () => {
    const store = storeAt();
    const { id } = store.addHandFeed(handFeed());
    const before = store.getHandFeed(id);
    const refusal = fieldRefusalOf(() =>
      store.correctHandFeed(id, { kind: 'entry', entry: { offeredMl: 20 } }),
    );
    expect(refusal.field).toBe('offeredMl');
    expect(store.getHandFeed(id)).toEqual(before);
  });
});

describe('the milk ledger', () => {
  const event = (atMs: number, changes: Partial<MilkEvent> = {}): MilkEvent => ({
    atMs,
    babyId: 'b1',
    container: 'bag 7',
    kind: 'got',
    entry: { what: 'got', atMs, id: 'bag 7', kind: 'expressed', ml: 90, place: 'fridge' },
    ...changes,
  });

  test('comes back in the order of writing', () => {
    const store = storeAt();
    const events = [
      event(NOW_MS - 1000),
      event(NOW_MS - 2000, { kind: 'thawed', container: null, babyId: null }),
    ];
    store.appendMilkEvents(events);
    store.appendMilkEvents([event(NOW_MS)]);
    const kept = store.readMilkEvents();
    expect(kept.map(({ no, ...rest }) => rest)).toEqual([...events, event(NOW_MS)]);
    expect(kept.map(({ no }) => no)).toEqual([1, 2, 3]);
    expect(store.readMilkEvents(NOW_MS - 1000).map(({ atMs }) => atMs)).toEqual([NOW_MS - 1000, NOW_MS]);
  });

  test('is added to as a whole or not at all', () => {
    const store = storeAt();
    const refusal = fieldRefusalOf(() =>
      store.appendMilkEvents([event(NOW_MS), event(NOW_MS + 60 * MINUTE_MS)]),
    );
    expect(refusal).toMatchObject({
      field: 'atMs',
      text: expect.stringContaining('Event 2, time: lies in the future.'),
    });
    expect(store.readMilkEvents()).toEqual([]);
  });
});
