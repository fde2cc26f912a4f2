/** The store's front promises the same on both engines: the same calls, one after another, get the same answers. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, it, onTestFinished, vi } from 'vitest';
import { readCapture } from '../../firmware-bridge/links/capture-file.ts';
import { PlainError } from '../../src/base/errors.ts';
import type { FeedStore } from '../../src/store/feed-store.ts';
import { openStore } from '../../src/store/open-store.ts';
import { exportTo } from '../../src/store/portable/export.ts';
import { openStoreAt } from '../../src/store/postgres/postgres-store.ts';
import { babyEntry } from '../support/babies.ts';
import { fillStore, NOW_MS } from '../support/full-store.ts';
import { noPostgres, sharedPostgres } from '../support/postgres.ts';
import { begunFeed, bytesOfSecond, partOfSecond, refinedSample } from '../support/store-samples.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const OPTIONS = { recording: true, softwareVersion: '0.1.0', nowMs: () => NOW_MS } as const;

interface Opened {
  store: FeedStore;
  /** Closes it and opens it again. */
  again(): FeedStore;
}

const opened = (open: () => FeedStore): Opened => {
  const one: Opened = {
    store: open(),
    again() {
      one.store.close();
      one.store = open();
      return one.store;
    },
  };
  onTestFinished(() => one.store.close());
  return one;
};

async function both(): Promise<Opened[]> {
  const folder = temporaryFolder();
  const server = await sharedPostgres();
  const { url } = server.freshDatabase();
  const choice = { database: url, databasePasswordFile: server.passwordFile };
  return [opened(() => openStore(folder, OPTIONS)), opened(() => openStoreAt(choice, OPTIONS))];
}

/** Ids of babies and of feeds by hand end in random characters; both engines get the same ones. */
function sameChance(): void {
  let state = 7;
  vi.spyOn(Math, 'random').mockImplementation(() => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  });
}

/** What a call answers, or the code it refuses with. */
const answerOf = (call: () => unknown): unknown => {
  try {
    return call() ?? 'done';
  } catch (error) {
    if (error instanceof PlainError) return { code: error.code };
    throw error;
  }
};

async function sameAnswers(...calls: ((one: Opened) => unknown)[]): Promise<unknown[]> {
  const answers = (await both()).map((one) => {
    sameChance();
    return calls.map((call) => answerOf(() => call(one)));
  });
  expect(answers[1]).toEqual(answers[0]);
  return answers[0]!;
}

afterEach(() => vi.restoreAllMocks());

describe.skipIf(noPostgres !== null)('the store on either engine', () => {
  it('keeps and gives back something of everything', async () => {
    const [, listed, ...others] = await sameAnswers(
      ({ store }) => fillStore(store),
      ({ store }) => store.list({ discarded: true }),
      ({ store }) => ['a', 'b', 'c', 'd'].map((id) => store.get(id)),
      ({ store }) => store.listHandFeeds({ withdrawn: true }),
      ({ store }) => store.readMilkEvents(),
      ({ store }) => [store.listBabies(), store.allBabies(), store.babiesKept()],
      ({ store }) => [store.settings(), store.calibrations(), store.calibrationFor('bench-1')],
      ({ store }) => store.between({ fromMs: NOW_MS - 2 * 86_400_000, toMs: NOW_MS }),
      ({ store }) => store.list({ babyId: store.listBabies()[0]!.id.toUpperCase(), limit: 2 }),
      ({ store }) => store.list({ onlyNames: ['LINNET', 'nobody'] }),
      ({ store }) => store.list({ bottleName: 'RED cap', simulated: false }),
      ({ again }) => again().list({ beforeMs: NOW_MS - 86_400_000 }),
    );
    expect(listed).toHaveLength(4);
    for (const answer of others) expect(answer).not.toEqual([]);
  });

  it('brings out the same files, captures among them, to the byte', async () => {
    const folders = (await both()).map(({ store }) => {
      sameChance();
      fillStore(store);
      const folder = join(temporaryFolder(), 'out');
      exportTo(store, folder, { captures: true, softwareVersion: '0.1.0', nowMs: NOW_MS });
      return folder;
    });
    const [ofFile, ofServer] = folders.map((folder) =>
      readdirSync(folder, { recursive: true, encoding: 'utf8' }).sort(),
    );
    expect(ofServer).toEqual(ofFile);
    expect(ofFile!.filter((name) => name.endsWith('.cap.gz'))).toHaveLength(4);
    for (const name of ofFile!.filter((one) => /\.(csv|jsonl|gz)$/.test(one))) {
      const [one, other] = folders.map((folder) => readFileSync(join(folder, name)));
      expect([name, one!.equals(other!)]).toEqual([name, true]);
    }
  });

  it('takes a feed from begin to end, the same part twice among it', async () => {
    const feed = begunFeed('once');
    const end = {
      endReason: 'button',
      endedAtMs: feed.startedAtMs + 9000,
      refined: refinedSample(),
    } as const;
    const answers = await sameAnswers(
      ({ store }) => store.begin(feed, { version: 1 }),
      ({ store }) => store.begin(feed, { version: 1 }),
      ({ store }) => store.append('once', partOfSecond(0)),
      ({ store }) => store.begin({ ...feed, sleeveId: 'other' }, {}),
      ({ store }) => store.begin(begunFeed('simulated', { simulated: true }), {}),
      ({ store }) => store.append('once', { ...partOfSecond(1), bytes: [] }),
      ({ store }) => store.list(),
      ({ store }) => store.finish('once', end),
      ({ store }) => store.get('once'),
      ({ store }) => store.refine('once', { ...refinedSample(), suckAtSec: [3] }),
      ({ store }) => store.discard('once'),
      ({ store }) => [store.list(), store.list({ discarded: true }), store.get('once')],
      ({ store }) => store.finish('never', end),
      ({ store }) => store.get('never'),
      ({ store }) => Buffer.from(readCapture(store.capturePath('once')!).bytes).equals(bytesOfSecond(0, 64)),
    );
    expect(answers.at(-1)).toBe(true);
    expect(answers[3]).toMatchObject({ code: 'store-taken' });
    expect(answers[4]).toMatchObject({ code: 'store-mixed' });
  });

  it('finds feeds that a killed process left, and ends them at their last row', async () => {
    const answers = await sameAnswers(
      ({ store }) => store.begin(begunFeed('cut'), {}),
      ({ store }) => store.append('cut', partOfSecond(0)),
      ({ store }) => store.append('cut', partOfSecond(1)),
      ({ store }) => store.unfinished(),
      ({ again }) => again().unfinished(),
      (one) => one.store.recover('cut', null),
      ({ store }) => [store.unfinished(), store.unsettled(), store.get('cut')],
    );
    expect(answers[3]).toEqual([]);
    expect(answers[4]).toMatchObject([{ id: 'cut' }]);
    expect(answers[5]).toMatchObject({ state: 'ended', endReason: 'link-ended' });
  });

  it('corrects, binds and forgets alike', async () => {
    const answers = await sameAnswers(
      ({ store }) => fillStore(store),
      ({ store }) =>
        store.correct('b', { kind: 'setup', setup: { babyName: 'wren', babyBirthDate: '2025-11-02' } }),
      ({ store }) => store.correct('b', { kind: 'note', text: 'Ünïcode "quoted" \\u0041 \u2028 🍼' }, 'J.'),
      ({ store }) => store.get('b'),
      ({ store }) => store.correct('never', { kind: 'note', text: '' }),
      ({ store }) => store.addBaby(babyEntry({ name: 'wren' })),
      ({ store }) => store.addBaby(babyEntry({ name: 'Linnet', birthDate: '2025-12-01' })),
      ({ store }) => store.sayWhose('WREN', store.listBabies()[0]!.id),
      ({ store }) => [store.allBabies(), store.babiesKept()],
      ({ store }) => store.forget('Wren'),
      ({ store }) => [
        store.list({ discarded: true }),
        store.babiesKept(),
        store.readMilkEvents(),
        store.settings(),
      ],
      ({ store }) => store.forget('Wren'),
      ({ store }) => store.forget('Linnet'),
      ({ again }) => [again().list({ discarded: true }), 'nothing'],
    );
    expect(answers[5]).toMatchObject({ code: 'baby-name-taken' });
    expect(answers[11]).toMatchObject({ code: 'forget-nobody' });
  });
});
