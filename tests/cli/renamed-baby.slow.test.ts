/** A baby that is renamed stays the same baby: plan, day, week, print, export, import and forgetting go by its id. */
import { join } from 'node:path';
import { describe, expect, it, onTestFinished, vi } from 'vitest';
import { packingService } from '../../src/app/packing/packing-service.ts';
import { babyOf } from '../../src/app/packing/plan-asked.ts';
import { sheetFor } from '../../src/app/packing/sheets.ts';
import { reviewService } from '../../src/app/review/review-service.ts';
import { keyOf } from '../../src/base/babies.ts';
import { runs } from '../../src/cli/feeds/runs.ts';
import type { FeedJournal } from '../../src/store/database/feed-journal.ts';
import type { FeedStore } from '../../src/store/feed-store.ts';
import { openStore } from '../../src/store/open-store.ts';
import { exportTo } from '../../src/store/portable/export.ts';
import { importInto } from '../../src/store/portable/import.ts';
import { babyEntry } from '../support/babies.ts';
import { letGo } from '../support/let-go.ts';
import { begunFeed, partOfSecond } from '../support/store-samples.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const NOW = Date.parse('2026-05-12T18:00:00Z');
const AROUND = { nowMs: () => NOW, zone: 'UTC' };
const BORN = '2026-01-10';
const DAY_MS = 24 * 3_600_000;

/** Fourteen days with four bottles of about 140 mL; a fifth of the last day is written in by hand. */
function weeksOfWren(): { store: FeedStore; folder: string; id: string } {
  const folder = temporaryFolder();
  const store = openStore(folder, { recording: true, nowMs: () => NOW });
  onTestFinished(() => store.close());
  const { id } = store.addBaby(babyEntry({ birthDate: BORN }));
  const midnight = Date.parse('2026-05-12T00:00:00Z');
  for (let day = 1; day <= 14; day++) {
    for (const hour of [7, 11, 15, 19]) {
      const startedAtMs = midnight - day * DAY_MS + hour * 3_600_000;
      const feedId = `feed-${day}-${hour}`;
      const setup = { ...begunFeed(feedId).setup, babyId: id, babyName: 'Wren', babyBirthDate: BORN };
      store.begin(begunFeed(feedId, { startedAtMs, sampleZeroAtMs: startedAtMs, setup }), null);
      store.append(feedId, { ...partOfSecond(0), intakeMl: 138 + (hour % 4), durationSec: 900 });
      store.finish(feedId, { endReason: 'page', endedAtMs: startedAtMs + 900_000, refined: null });
    }
  }
  store.writeSetup({ ...begunFeed('x').setup, babyId: id, babyName: 'Wren', babyBirthDate: BORN });
  store.writePacking({ parent: { name: 'Mara', phone: '555-0142' } });
  reviewService(store, AROUND).writeFeed({
    kind: 'bottle',
    day: '2026-05-11',
    clock: '21:00',
    offeredMl: 150,
    leftMl: 10,
    babyId: id,
    babyName: 'Wren',
  });
  return { store, folder, id };
}

const rename = (store: FeedStore, id: string) =>
  store.changeBaby(id, babyEntry({ name: 'Robin', birthDate: BORN }));

/** All that plan, pages and sheets say about the first baby, without its names. */
async function told(store: FeedJournal) {
  const packing = packingService(store, AROUND);
  const review = reviewService(store, AROUND);
  const [baby] = packing.start().babies;
  const query = { day: '2026-05-11', baby: keyOf(baby!) };
  // Hours that hold every bottle: bottles outside the planned hours are left out of a plan.
  const ask = { birthDay: baby!.birthDay, day: '2026-05-13', from: '06:00', until: '22:00', feeds: null };
  const { portion, bottleFeeds } = packing.plan({ ...ask, baby: query.baby });
  return {
    known: packing.start().babies.length,
    portion: portion.perFeed,
    bottleFeeds,
    day: review.day(query).told.feeds.map(({ id, amount }) => [id, amount]),
    week: review.week(query).told.table.rows.map(({ cells }) => cells),
    dayFile: review.dayFile(query).match(/\d+ mL/g),
    sheet: (await sheetFor(store, 'day-sheet', 'html', { ...query, filled: 'yes' }, AROUND))
      .toString()
      .match(/\d+ mL/g),
    plan: (await sheetFor(store, 'feeding-plan', 'html', { baby: query.baby }, AROUND))
      .toString()
      .match(/\d+ mL/g),
  };
}

describe('a renamed baby', () => {
  it('keeps plan, day, week and print, which call it by its new name', async () => {
    const { store, id } = weeksOfWren();
    const before = await told(store);
    expect(before).toMatchObject({ known: 1, bottleFeeds: 57 });
    expect(before.day).toHaveLength(5);
    rename(store, id);
    expect(await told(store)).toEqual(before);
    expect(packingService(store, AROUND).start().babies).toEqual([{ id, name: 'Robin', birthDay: BORN }]);
    for (const name of ['day-sheet', 'feeding-plan'] as const)
      expect(await sheetFor(store, name, 'html', {}, AROUND)).toContain('Robin');
    const review = reviewService(store, AROUND);
    expect(review.find({ baby: id }).feeds).toHaveLength(30);
    expect(review.find({}).feeds[0]!.setup.babyName).toBe('Robin');
    expect(review.told('feed-1-7', { names: '1' }).told.names).toContain('Robin');
  });

  it('is the baby that a command means by its new name, its old one, or its number', () => {
    const { store, id } = weeksOfWren();
    rename(store, id);
    for (const baby of ['robin', ' Robin ', 'wren', id])
      expect(babyOf(store, { baby }, NOW)).toMatchObject({ id, name: 'Robin', birthDay: BORN });
  });

  it('goes into an export whole, and comes back whole', async () => {
    const { store, folder, id } = weeksOfWren();
    rename(store, id);
    const before = await told(store);
    const out = join(folder, 'out');
    const options = { captures: false, softwareVersion: '0.1.0', nowMs: NOW };
    expect(exportTo(store, out, { ...options, baby: 'robin' })).toMatchObject({ feeds: 56, handFeeds: 1 });
    const elsewhere = join(temporaryFolder(), 'new');
    importInto(elsewhere, out, NOW);
    const there = openStore(elsewhere, { nowMs: () => NOW });
    onTestFinished(() => there.close());
    there.writePacking(store.readPacking());
    expect(await told(there)).toEqual(before);
  });

  it('is forgotten whole', async () => {
    const { store, id } = weeksOfWren();
    rename(store, id);
    expect(store.babiesKept()).toEqual([{ id, name: 'Robin', feeds: 56, handFeeds: 1 }]);
    await letGo();
    expect(store.forget('Robin')).toMatchObject({ feeds: 56, handFeeds: 1, mentions: 0 });
    expect(store.list({ discarded: true })).toEqual([]);
  });
});

describe('feeds under a name that two babies may have', () => {
  /** Beside Wren's weeks: a feed of today that says only the name. */
  function withDoubt() {
    const kept = weeksOfWren();
    const { store } = kept;
    const startedAtMs = NOW - 6 * 3_600_000;
    store.begin(begunFeed('doubt', { startedAtMs, sampleZeroAtMs: startedAtMs }), null);
    store.append('doubt', { ...partOfSecond(0), intakeMl: 120, durationSec: 900 });
    store.finish('doubt', { endReason: 'page', endedAtMs: startedAtMs + 900_000, refined: null });
    return kept;
  }

  it('are asked about on the page, counted nowhere meanwhile, and everything else goes on', async () => {
    const { store, id } = withDoubt();
    const service = reviewService(store, AROUND);
    expect(service.whose()).toEqual([
      {
        key: 'Wren',
        name: 'Wren',
        count: 1,
        isFromElsewhere: false,
        choices: [{ id, name: 'Wren', birthDay: BORN }],
      },
    ]);
    expect(await told(store)).toMatchObject({ known: 1, bottleFeeds: 57 });
    expect(() => service.sayWhose({ feeds: 'Wren' })).toThrow('was not said');
    expect(service.sayWhose({ feeds: 'Wren', baby: id })).toEqual([]);
    expect(await told(store)).toMatchObject({ known: 1, bottleFeeds: 58 });
  });

  it('are asked about in the terminal, with the answers to type', async () => {
    const { store, folder, id } = withDoubt();
    vi.stubEnv('EBBLINE_DATA', folder);
    const said = { out: '', err: '' };
    const into = (where: 'out' | 'err') => (text: string | Uint8Array) => {
      said[where] += text;
      return true;
    };
    vi.spyOn(process.stdout, 'write').mockImplementation(into('out'));
    vi.spyOn(process.stderr, 'write').mockImplementation(into('err'));
    onTestFinished(() => {
      vi.restoreAllMocks();
      vi.unstubAllEnvs();
    });
    await runs['feeds whose']({});
    expect(said.out).toContain('1 feed says only the name Wren');
    expect(said.out).toContain(`ebbline feeds whose Wren --baby ${id}   Wren, born ${BORN}`);
    const told = { day: '2026-05-11', language: 'en', unit: 'ml' } as const;
    await runs.day(told);
    expect(said.err).toContain('left out until you say whose: ebbline feeds whose');
    await expect(runs['feeds whose']({ feeds: 'Wren' })).rejects.toThrow('was not said');
    await expect(runs.day({ ...told, baby: 'Wrem' })).rejects.toThrow(
      'Nothing is kept of a baby called Wrem',
    );
    await runs['feeds whose']({ feeds: 'Wren', another: true });
    expect(said.out).toContain('it is known whose it is');
    expect(store.list({ babyId: id, limit: 1 })[0]!.id).not.toBe('doubt');
    // Two Wrens now: a name no longer says which.
    await expect(runs.day({ ...told, baby: 'wren' })).rejects.toThrow(/2 babies are called wren/);
  });
});
