import { describe, expect, it } from 'vitest';
import { FieldError } from '../../src/base/errors.ts';
import {
  type EntryEvent,
  entriesOf,
  newEntries,
  proposals,
  storedLedger,
} from '../../src/planning/milk/stored-ledger.ts';

const HOUR = 3_600_000;
const MORNING = Date.parse('2026-05-12T11:00:00Z');
const NOW = MORNING + 10 * HOUR;

const got = (id: string, ml = 90, atMs = MORNING) => ({
  what: 'got',
  atMs,
  id,
  kind: 'expressed',
  ml,
  place: 'fridge',
});
const book = (...entries: unknown[]): EntryEvent[] => entries.map((entry, i) => ({ no: i + 1, entry }));

const refusal = (events: EntryEvent[], data: unknown): FieldError => {
  try {
    newEntries(events, data, NOW);
  } catch (error) {
    if (error instanceof FieldError) return error;
    throw error;
  }
  throw new Error('nothing was refused');
};

describe('the stored milk ledger', () => {
  it('comes to what its entries say, in the order of writing', () => {
    const { ledger, lines, leftOut } = storedLedger(
      book(got('A'), { what: 'stored', atMs: MORNING + HOUR, id: 'A', place: 'freezer' }),
      NOW,
    );
    expect(ledger.containers.A?.container.place).toBe('freezer');
    expect([lines.length, leftOut]).toEqual([2, []]);
  });

  it('leaves out what cannot be, says which and why, and reads on', () => {
    const { ledger, leftOut } = storedLedger(
      book(got('A'), { what: 'spilled' }, got('A'), { what: 'warmed', atMs: NOW, id: 'Z' }, got('B')),
      NOW,
    );
    expect(Object.keys(ledger.containers)).toEqual(['A', 'B']);
    expect(leftOut.map(({ no }) => no)).toEqual([2, 3, 4]);
    for (const { why } of leftOut) expect(why).toMatch(/\.$/);
  });

  it('takes an entry back without losing it', () => {
    const events = book(got('A', 30), { what: 'taken-back', atMs: NOW, no: 1 }, got('A', 90));
    const { ledger, lines } = storedLedger(events, NOW);
    expect(ledger.containers.A?.container.volumeMl).toBe(90);
    expect(lines.map(({ takenBack }) => takenBack)).toEqual([true, false]);
  });

  it('does not take back what a later entry rests on', () => {
    const events = book(got('A'), { what: 'warmed', atMs: MORNING + HOUR, id: 'A' });
    expect(refusal(events, [{ what: 'taken-back', atMs: NOW, no: 1 }]).code).toBe('entry-needed');
    expect(newEntries(events, [{ what: 'taken-back', atMs: NOW, no: 2 }], NOW)).toHaveLength(1);
    expect(refusal(events, [{ what: 'taken-back', atMs: NOW, no: 7 }]).code).toBe('entry-unknown');
  });
});

describe('a new entry', () => {
  it.each([
    ['a label that is there already', got('A'), 'id'],
    ['negative milk', got('B', -30), 'ml'],
    ['more than any container holds', got('B', 4000), 'ml'],
    ['a date in the future', got('B', 90, NOW + HOUR), 'atMs'],
    ['a container that is not there', { what: 'warmed', atMs: NOW, id: 'Z' }, 'id'],
    ['a container that is used up', { what: 'discarded', atMs: NOW, id: 'gone' }, 'id'],
    ['a time before its last entry', { what: 'warmed', atMs: MORNING - HOUR, id: 'A' }, 'atMs'],
    ['more than there is', { what: 'poured', atMs: NOW, into: 'B', from: [{ id: 'A', ml: 120 }] }, 'ml'],
  ])('with %s is refused at its field, and nothing is written', (_what, entry, field) => {
    const events = book(got('A'), got('gone'), { what: 'discarded', atMs: MORNING + HOUR, id: 'gone' });
    const error = refusal(events, [got('fine'), entry]);
    expect(error.field).toBe(field);
    expect(error.message).toMatch(/^[A-Z0-9].*\.$/);
    expect(error.remedy).not.toBe('');
    expect(storedLedger(events, NOW).ledger.containers.fine).toBeUndefined();
  });

  it('may be several, the later resting on the earlier', () => {
    const entries = [got('B'), { what: 'warmed', atMs: NOW, id: 'B' }];
    expect(newEntries([], entries, NOW)).toEqual(entries);
    expect(refusal([], []).message).toContain('no entry');
  });
});

describe('a feed that ended', () => {
  const feed = {
    id: 'f1',
    startedAtMs: MORNING + 3 * HOUR,
    endedAtMs: MORNING + 3.3 * HOUR,
    leftBottleMl: 62,
    offeredMl: 75,
  };

  it('is proposed with the bottle it most likely was, and written only as confirmed', () => {
    const events = book(got('A', 120), got('B', 75), got('small', 40), got('late', 75, MORNING + 5 * HOUR), {
      ...got('ice', 75),
      place: 'freezer',
    });
    const [proposal, ...more] = proposals(storedLedger(events, NOW), [feed]);
    expect(more).toEqual([]);
    expect(proposal).toMatchObject({ feed: 'f1', candidates: ['B', 'A'], leftBottleMl: 62 });
    const entries = entriesOf(proposal!, { id: 'B', volumeMl: 75 });
    expect(newEntries(events, entries, NOW)).toEqual(entries);
    const after = storedLedger([...events, ...entries.map((entry, i) => ({ no: 10 + i, entry }))], NOW);
    expect(after.leftOut).toEqual([]);
    expect(after.ledger.containers.B?.container.volumeMl).toBe(13);
    expect(after.ledger.totals.fedMl).toBe(62);
    // A confirmed feed is not proposed again.
    expect(proposals(after, [feed])).toEqual([]);
  });

  it('names milk whose time had passed last, even if it fits best; who gave it all the same can say so', () => {
    // In the fridge for five days; the published limit is four (CDC).
    const events = book(got('old', 75, MORNING - 5 * 24 * HOUR), got('fresh', 120));
    expect(proposals(storedLedger(events, NOW), [feed])[0]?.candidates).toEqual(['fresh', 'old']);
  });

  it('is not proposed where no container can have been it, or nothing was taken', () => {
    expect(proposals(storedLedger(book(got('A', 30)), NOW), [feed])).toEqual([]);
    expect(proposals(storedLedger(book(got('A')), NOW), [{ ...feed, leftBottleMl: 0 }])).toEqual([]);
  });
});
