/** Babies as entered, kept beside feeds. All of it is invented. */
import { join } from 'node:path';
import { describe, expect, onTestFinished, test } from 'vitest';
import { FieldError } from '../../src/base/errors.ts';
import { FAMILY_GUIDANCE } from '../../src/pacing/guidance.ts';
import { SHIPPED_PROFILE } from '../../src/pacing/profile/shipped-profile.ts';
import { DATABASE_FILE } from '../../src/store/data-folder.ts';
import { openDatabase } from '../../src/store/database/database.ts';
import { openStore } from '../../src/store/open-store.ts';
import { babyEntry } from '../support/babies.ts';
import { begunFeed, partOfSecond } from '../support/store-samples.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const NOW_MS = Date.UTC(2026, 0, 9, 12);

function storeAt(folder = temporaryFolder(), nowMs = NOW_MS) {
  const store = openStore(folder, { recording: true, nowMs: () => nowMs });
  onTestFinished(() => store.close());
  return store;
}

function fieldOf(action: () => unknown): string {
  try {
    action();
  } catch (error) {
    if (error instanceof FieldError) return error.field;
    throw error;
  }
  return 'nothing refused';
}

const PLAN = {
  from: 'clinic',
  lasting: { rateMlPerMin: 6, depthMl: 10 },
  pouring: { rateMlPerMin: 12, depthMl: 5 },
  rhythm: null,
  enough: true,
};

describe('a baby', () => {
  test('is kept as entered, and read again by another process', () => {
    const folder = temporaryFolder();
    const store = storeAt(folder);
    const baby = store.addBaby(babyEntry());
    expect(baby).toEqual({
      ...babyEntry(),
      id: baby.id,
      createdAtMs: NOW_MS,
      answeredAtMs: NOW_MS,
      quietSinceMs: null,
    });
    const other = openStore(folder);
    expect(other.listBabies()).toEqual([baby]);
    expect(other.getBaby(baby.id)).toEqual(baby);
    other.close();
  });

  test('can be changed, and keeps its number', () => {
    const store = storeAt();
    const { id } = store.addBaby(babyEntry());
    store.changeBaby(id, babyEntry({ name: 'Wren T.', pace: 'strict' }));
    expect(store.listBabies()).toMatchObject([{ id, name: 'Wren T.', pace: 'strict' }]);
    expect(() => store.changeBaby('nobody', babyEntry())).toThrow(/not kept/);
  });

  test('of a name that is taken is refused, large and small letters alike', () => {
    const store = storeAt();
    store.addBaby(babyEntry());
    expect(fieldOf(() => store.addBaby(babyEntry({ name: 'WREN' })))).toBe('name');
    store.addBaby(babyEntry({ name: 'Sol' }));
    // Entered in the same millisecond: either may come first.
    expect(
      store
        .listBabies()
        .map(({ name }) => name)
        .sort(),
    ).toEqual(['Sol', 'Wren']);
  });

  test.each([
    ['name', { name: '  ' }],
    ['name', { name: 'x'.repeat(81) }],
    ['birthDate', { birthDate: '2026-02-30' }],
    ['birthDate', { birthDate: '2026-03-01' }],
    ['birthDate', { birthDate: '2001-03-01' }],
    ['answers.cleft', { answers: { ...babyEntry().answers, cleft: undefined } }],
    ['choices.burp', { choices: { ...babyEntry().choices, burp: 'never' } }],
    ['choices.cover', { choices: { ...babyEntry().choices, cover: 'often' } }],
    ['pace', { pace: 'fast' }],
    ['usualFeedMl', { usualFeedMl: -90 }],
    ['usualFeedMl', { usualFeedMl: 301 }],
    ['breast.minutes', { breast: { minutes: 2, sides: 2 } }],
    ['plan.from', { plan: { ...PLAN, from: ' ' } }],
    ['plan.lasting.rateMlPerMin', { plan: { ...PLAN, lasting: { depthMl: 8 } } }],
    ['plan.lasting.rateMlPerMin', { plan: { ...PLAN, lasting: { rateMlPerMin: 'six', depthMl: 10 } } }],
  ])('with a wrong %s is refused at that field, and nothing is kept', (field, part) => {
    const store = storeAt();
    expect(fieldOf(() => store.addBaby({ ...babyEntry(), ...part }))).toBe(field);
    expect(store.listBabies()).toEqual([]);
  });

  test('kept, or restored from a backup, before there was a switch has what a family starts from', () => {
    const folder = temporaryFolder();
    const { id } = storeAt(folder).addBaby(babyEntry());
    const { suckRhythm: _later, littleComing: _too, ...older } = babyEntry().choices;
    const database = openDatabase(join(folder, DATABASE_FILE));
    database
      .prepare("UPDATE baby SET baby_json = json_set(baby_json, '$.choices', json(?))")
      .run(JSON.stringify({ ...older, after: true }));
    database.close();
    const again = openStore(folder);
    expect(again.getBaby(id)!.choices).toEqual({ ...babyEntry().choices, after: true });
    again.close();
  });

  test('has its quiet taken back from now on', () => {
    const store = storeAt();
    const { id } = store.addBaby(babyEntry());
    expect(store.undoQuiet(id).quietSinceMs).toBe(NOW_MS);
    expect(store.getBaby(id)!.quietSinceMs).toBe(NOW_MS);
  });
});

describe('a feed', () => {
  test('keeps the profile and the guidance that it ran with, and the baby by its number', () => {
    const store = storeAt();
    const ran = { profile: SHIPPED_PROFILE, guidance: { ...FAMILY_GUIDANCE, usualFeedMl: 90 } };
    const { setup } = begunFeed('x');
    store.begin(begunFeed('one', { ran, setup: { ...setup, babyId: 'b-1', teatName: 'slow' } }), null);
    store.append('one', partOfSecond(0));
    store.begin(begunFeed('two'), null);
    store.append('two', partOfSecond(0));
    expect(store.get('one')).toMatchObject({ ran, setup: { babyId: 'b-1', teatName: 'slow' } });
    expect(store.get('two')).not.toHaveProperty('ran');
    expect(store.list({ babyId: 'b-1' }).map(({ id }) => id)).toEqual(['one']);
  });
});
