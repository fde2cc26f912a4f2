/** The service of review over a real store, and the commands that say the same in a terminal. */
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, onTestFinished, vi } from 'vitest';
import type { ReviewService } from '../../src/app/review/review-answers.ts';
import { reviewService } from '../../src/app/review/review-service.ts';
import { runs } from '../../src/cli/feeds/runs.ts';
import { teatPassport } from '../../src/research/teat/passport.ts';
import type { FeedStore } from '../../src/store/feed-store.ts';
import { eventfulFeed, gentleFeed } from '../support/graph-feeds.ts';
import { nippleTrials } from '../support/passports.ts';
import { feedAt, storeOf } from '../support/review-store.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const ZONE = 'America/New_York';
const NOW_MS = Date.parse('2026-11-03T02:00:00Z');
const HOUR_MS = 3_600_000;
let folder = '';
let store: FeedStore;
let service: ReviewService;

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'ebbline-review-'));
  const of = (babyName: string, bottleName: string) => ({
    setup: { ...gentleFeed().setup, babyName, bottleName },
  });
  store = storeOf(
    folder,
    [
      ...Array.from({ length: 33 }, (_, i) =>
        feedAt(gentleFeed(), `w-${i}`, NOW_MS - (i + 2) * 8 * HOUR_MS, of('Wren', i % 2 ? 'blue' : 'red')),
      ),
      feedAt(eventfulFeed(), 'l-0', NOW_MS - 5 * HOUR_MS, { ...of('Linnet', 'Blue'), simulated: false }),
    ],
    () => NOW_MS,
  );
  service = reviewService(store, { nowMs: () => NOW_MS, zone: ZONE });
});
afterAll(() => {
  store?.close();
  if (folder) rmSync(folder, { recursive: true });
});

describe('the nipple of a feed', () => {
  const passport = (mlPerMin: number) =>
    teatPassport(nippleTrials([mlPerMin, mlPerMin, mlPerMin], { suction: { mmHg: 150 }, headMm: 60 }));
  /** @returns what the page says about the nipple of a feed, if that nipple was measured to give `mlPerMin` */
  const told = (teatName: string | null, mlPerMin: number) => {
    const feed = { setup: { ...gentleFeed().setup, teatName } };
    const own = storeOf(temporaryFolder(), [feedAt(gentleFeed(), 'n', NOW_MS - HOUR_MS, feed)], () => NOW_MS);
    onTestFinished(() => own.close());
    const passportsOf = (teat: string) => (teat === 'Blue ring' ? [passport(mlPerMin)] : []);
    return reviewService(own, { nowMs: () => NOW_MS, zone: ZONE }, passportsOf).told('n', {}).nipple;
  };

  it('stands beside its last measuring, and nothing is said of one that was never measured', () => {
    expect(told('Blue ring', 30)).toMatchObject({ suctionMmHg: 150, isFaster: false });
    expect(told('Blue ring', 0.5)).toMatchObject({ measuredMlPerMin: 0.5, isFaster: true });
    expect(told('Another', 0.5)).toBeNull();
    expect(told(null, 0.5)).toBeNull();
  });
});

describe('the freezer in a week', () => {
  it('counts no milk whose time had passed before it was frozen', () => {
    const own = storeOf(temporaryFolder(), [], () => NOW_MS);
    onTestFinished(() => own.close());
    const got = (id: string, ml: number, place: string) => ({
      what: 'got' as const,
      atMs: NOW_MS - 20 * HOUR_MS,
      id,
      kind: 'expressed',
      ml,
      place,
    });
    const entries = [
      got('late', 90, 'room'),
      got('cold', 60, 'freezer'),
      { what: 'stored' as const, atMs: NOW_MS - 8 * HOUR_MS, id: 'late', place: 'freezer' },
    ];
    own.appendMilkEvents(
      entries.map((entry) => ({
        atMs: entry.atMs,
        babyId: null,
        container: entry.id,
        kind: entry.what,
        entry,
      })),
    );
    const { told } = reviewService(own, { nowMs: () => NOW_MS, zone: ZONE }).week({});
    expect(told.milk.join(' ')).toContain('In the freezer: 2 fl oz (60 mL)');
  });
});

describe('finding', () => {
  it('goes page by page without a gap or a repeat', () => {
    const first = service.find({});
    expect(first.feeds).toHaveLength(30);
    const second = service.find({ before: String(first.next) });
    expect(second.next).toBeNull();
    const ids = [...first.feeds, ...second.feeds].map(({ id }) => id);
    expect(new Set(ids).size).toBe(34);
    expect(first.names).toMatchObject({ bottles: ['Blue', 'red'], teats: [] });
    expect(first.names.babies.map(({ name }) => name)).toEqual(['Linnet', 'Wren']);
  });

  it('by baby, by bottle, up to a day of the family’s zone', () => {
    expect(service.find({ baby: 'linnet' }).feeds.map(({ id }) => id)).toEqual(['l-0']);
    expect(service.find({ bottle: 'BLUE' }).feeds).toHaveLength(17);
    // The day ends at 04:00 UTC in summer and at 05:00 in winter.
    const feeds = service.find({ until: '2026-11-01' }).feeds;
    expect(feeds[0]!.startedAtMs).toBeLessThan(Date.parse('2026-11-02T05:00:00Z'));
    expect(feeds[0]!.startedAtMs).toBeGreaterThan(Date.parse('2026-11-01T20:00:00Z'));
    expect(() => service.find({ until: '2026-02-30' })).toThrow(/no date "2026-02-30"/);
  });

  it('a nipple that nobody noted finds nothing', () => {
    expect(service.find({ teat: 'slow' }).feeds).toEqual([]);
  });
});

describe('one feed', () => {
  it('is told in the language and unit asked for', () => {
    expect(service.told('w-0', { language: 'es', unit: 'ml' }).told.sentence).toMatch(
      /^Tomó 98 mL \(3¼ fl oz\) en 18 min/,
    );
    expect(service.told('w-0', { language: 'fr' }).told.sentence).toMatch(/ taken in /);
    expect(() => service.told('none', {})).toThrow(/no kept feed of that name/);
  });

  it('takes what is put beside it, or says at the field why not', () => {
    expect(
      service.correct(
        'w-1',
        { correction: { kind: 'bottle-reading', offeredMl: 120, leftMl: 31 }, by: 'J.' },
        {},
      ).told.reading,
    ).toBe('By the bottle’s own marks: 3 fl oz (89 mL) taken.');
    expect(store.get('w-1')!.corrections![0]!.by).toBe('J.');
    expect(() =>
      service.correct('w-1', { correction: { kind: 'bottle-reading', offeredMl: 1, leftMl: 31 } }, {}),
    ).toThrow(expect.objectContaining({ field: 'leftMl' }));
    for (const body of [null, {}, { correction: { kind: 'worth' } }, { correction: 'note' }])
      expect(() => service.correct('w-1', body, {})).toThrow(
        expect.objectContaining({ code: 'entry-invalid' }),
      );
    expect(store.get('w-1')!.corrections).toHaveLength(1);
  });

  it('is handed on with its own note, another one, or none; nobody is named unless asked', async () => {
    service.correct('w-2', { correction: { kind: 'note', text: 'sleepy after' } }, {});
    expect(await service.file('w-2', 'html', {})).toContain('sleepy after');
    expect(await service.file('w-2', 'html', { note: 'for Monday' })).toContain('for Monday');
    expect(await service.file('w-2', 'html', { note: '' })).not.toMatch(/class="note"|Wren|Juno/);
    expect(await service.file('w-2', 'html', { names: '1' })).toContain('Wren · Juno');
  });
});

describe('days', () => {
  it('of one baby at a time, the latest first', () => {
    const day = service.day({});
    expect([day.told.day, day.baby.name, day.after, day.before]).toEqual([
      '2026-11-02',
      'Linnet',
      null,
      '2026-11-01',
    ]);
    expect(day.told.feeds.map(({ id }) => id)).toEqual(['l-0']);
    const of = service.day({ baby: 'Wren' });
    expect(of.told.feeds.every(({ id }) => id.startsWith('w-'))).toBe(true);
    expect(of.told.feeds.length).toBeGreaterThan(0);
    expect(service.dayFile({ baby: 'Wren', day: '2026-11-01' })).not.toMatch(/Linnet|l-0/);
  });

  it('seven of them against the seven before', () => {
    const { told } = service.week({ baby: 'Wren', day: '2026-11-02' });
    expect(told.table.rows.map(({ day }) => day)[0]).toBe('2026-10-27');
    // Fewer than ten bottles a week lie before: nothing is compared.
    expect(told.compare.lines[0]).toMatch(/^(Not compared: \d+ and \d+ bottles|Half of the bottles)/);
  });

  it('a feed written in stands on its day; what cannot be stands at the field', () => {
    const entry = { kind: 'breast', day: '2026-11-01', clock: '01:30', again: true, babyName: 'Wren' };
    const { id } = service.writeFeed(entry);
    expect(store.getHandFeed(id)!.atMs).toBe(Date.parse('2026-11-01T06:30:00Z'));
    expect(service.day({ baby: 'Wren', day: '2026-11-01' }).told.lines.join(' ')).toContain(
      '1 feed at the breast',
    );
    service.takeBackFeed(id);
    expect(service.day({ baby: 'Wren', day: '2026-11-01' }).told.lines.join(' ')).not.toContain(
      'at the breast',
    );
    for (const [wrong, field] of [
      [{ clock: '25:00' }, 'clock'],
      [{ day: '2026-13-01' }, 'day'],
      [{ clock: '03:30' }, 'clock'],
      [{ again: false, offeredMl: 50 }, 'offeredMl'],
      [{ again: false, kind: 'bottle', offeredMl: -1 }, 'offeredMl'],
      [{ again: false, kind: 'nap' }, 'kind'],
      [{ again: false, day: '2026-12-01' }, 'atMs'],
    ] as const)
      expect(() => service.writeFeed({ ...entry, ...wrong })).toThrow(expect.objectContaining({ field }));
    expect(store.listHandFeeds()).toEqual([]);
  });
});

describe('the commands', () => {
  /** @returns what a command prints when its data folder is `data` */
  async function said(act: () => unknown, data: string): Promise<string> {
    vi.stubEnv('EBBLINE_DATA', data);
    const lines: string[] = [];
    const stdout = vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
      lines.push(String(text));
      return true;
    });
    onTestFinished(() => {
      stdout.mockRestore();
      vi.unstubAllEnvs();
    });
    await act();
    return lines.join('');
  }
  const told = { language: 'en', unit: 'fl-oz' } as const;

  it('write a feed in, tell the day and the week, and write files to hand on', async () => {
    const data = temporaryFolder();
    const latest = feedAt(gentleFeed(), 'f-1', Date.now() - HOUR_MS);
    storeOf(data, [latest]).close();
    const yesterday = new Date(Date.now() - 24 * HOUR_MS).toISOString().slice(0, 10);
    expect(
      await said(
        () => runs['feeds add']({ kind: 'refused', day: yesterday, at: '12:00', offeredMl: 60, leftMl: 55 }),
        data,
      ),
    ).toBe(`Kept: the feed of Wren on ${yesterday} at 12:00.\n`);
    expect(await said(() => runs.day({ ...told, day: yesterday }), data)).toMatch(
      /12:00 PM {2}¼ fl oz \(5 mL\) tried · Offered, hardly taken · written in by hand/,
    );
    expect(await said(() => runs.week(told), data)).toMatch(/Not compared: .*\n.*milk list/);
    for (const ending of ['html', 'pdf', 'svg', 'png']) {
      const out = join(data, `feed.${ending}`);
      expect(
        await said(
          () => runs['feeds graph']({ out, language: 'es', unit: 'fl-oz', note: 'para el lunes' }),
          data,
        ),
      ).toBe(`${out}\n`);
      expect(existsSync(out)).toBe(true);
    }
    expect(readFileSync(join(data, 'feed.html'), 'utf8')).toMatch(/lang="es"[\s\S]*para el lunes/);
    const page = join(data, 'day.html');
    await said(() => runs.day({ ...told, day: yesterday, out: page, note: 'a calm day' }), data);
    expect(readFileSync(page, 'utf8')).toContain('a calm day');
    await expect(said(() => runs.day({ ...told, out: 'day.txt' }), data)).rejects.toThrow(
      /must end in \.html/,
    );
    await expect(said(() => runs['feeds add']({ kind: 'breast', at: 'noon' }), data)).rejects.toThrow(
      /no time "noon"/,
    );
  });
});
