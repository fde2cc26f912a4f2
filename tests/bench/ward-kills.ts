/**
 * A house of five sleeves and two workers in which something is killed at random: a worker, the broker, the database or all relays, each started again after
 * some seconds. Afterwards every feed is held against the same capture at home. 100 kills; `--quick`: 12.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { noBroker } from '../support/broker.ts';
import { noPostgres } from '../support/postgres.ts';
import { seededRandom } from '../support/random.ts';
import { checkedFeeds } from '../support/ward/checks.ts';
import type { CotReport } from '../support/ward/cots.ts';
import { startWard, type Ward } from '../support/ward/ward.ts';
import { printTable } from './table.ts';

const SLEEVES = 5;
const FEED_SEC = 240;
/** From the start until feeds run, and after the last kill until all is kept. */
const BEFORE_SEC = 50;
const AFTER_SEC = 25;
const KINDS = ['worker', 'broker', 'database', 'relays'] as const;
type Kind = (typeof KINDS)[number];

interface Told {
  kills: Record<Kind, number>;
  feeds: number;
  wrong: string[];
  /** Sleeves that still took guidance 2 s after the broker was dead. */
  litAfterBroker: number;
}

export async function benchWardKills(flags: ReadonlySet<string>): Promise<void> {
  const missing = noBroker ?? noPostgres;
  if (missing !== null) return console.log(`\nNo kills: ${missing}.`);
  const wanted = flags.has('quick') ? 12 : 100;
  const told: Told = {
    kills: { worker: 0, broker: 0, database: 0, relays: 0 },
    feeds: 0,
    wrong: [],
    litAfterBroker: 0,
  };
  const random = seededRandom(17);
  let left = wanted;
  while (left > 0) left -= await oneHouse(random, left, told);
  printTable(
    'Killed at random, and what was kept held against home',
    ['killed', 'times'],
    KINDS.map((kind) => [kind, told.kills[kind]]),
    [
      `${told.feeds} feeds were kept; ${told.wrong.length} of them differ from their capture at home.`,
      ...told.wrong.slice(0, 10),
      `Sleeves that were still guided 2 s after the broker had died: ${told.litAfterBroker}.`,
      'What sleeves send while their relay is dead is lost to everybody, as from a pulled plug; such a feed is held against the bytes that it has.',
    ],
  );
}

/** @returns how many were killed */
async function oneHouse(random: () => number, most: number, told: Told): Promise<number> {
  const folder = mkdtempSync(join(tmpdir(), 'ebbline-kills-'));
  const ends: (() => Promise<void>)[] = [];
  let kills = 0;
  try {
    const ward = await startWard({
      ...{ folder, sleeves: SLEEVES, workers: 2, database: 'postgres', seconds: FEED_SEC, spreadSec: 5 },
      whenOver: (end) => ends.push(end),
    });
    await pause(BEFORE_SEC * 1000);
    const untilMs = performance.now() + (FEED_SEC - BEFORE_SEC - AFTER_SEC - 10) * 1000;
    while (kills < most && performance.now() < untilMs) {
      const kind = KINDS[Math.floor(random() * KINDS.length)]!;
      await killed(ward, kind, random, told);
      told.kills[kind] += 1;
      kills += 1;
      await pause(3000 + random() * 4000);
    }
    await pause(AFTER_SEC * 1000);
    const kept = ward.read((store) => checkedFeeds(store, ward.bytes, ward.calibration));
    told.feeds += kept.length;
    const withRelays = told.kills.relays > 0;
    for (const { sleeve, wrong } of kept) {
      // Bytes that no relay was there for make a hole in the stretch, and in nothing else.
      const counted = withRelays ? wrong.filter((what) => !/no stretch/.test(what)) : wrong;
      if (counted.length > 0) told.wrong.push(`sleeve ${sleeve}: ${counted.join('; ')}`);
    }
  } finally {
    for (const end of ends.reverse()) await end();
    rmSync(folder, { recursive: true, force: true });
  }
  return kills;
}

async function killed(ward: Ward, kind: Kind, random: () => number, told: Told): Promise<void> {
  const forMs = 1000 + random() * 3000;
  switch (kind) {
    case 'worker': {
      const worker = ward.workers[Math.floor(random() * ward.workers.length)]!;
      await worker.kill();
      await pause(forMs);
      return worker.start();
    }
    case 'broker': {
      await ward.broker.kill();
      await pause(2000);
      told.litAfterBroker += (await ward.cots.report()).filter(isGuided).length;
      await pause(Math.max(0, forMs - 2000));
      return ward.broker.start();
    }
    case 'database':
      await ward.postgres!.kill();
      await pause(forMs);
      return ward.postgres!.start();
    case 'relays':
      await ward.cots.kill();
      await pause(forMs);
      return ward.cots.start();
  }
}

const isGuided = ({ beats }: CotReport): boolean => beats.at(-1)?.[1] === true;
