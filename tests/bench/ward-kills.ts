/**
 * A house of five sleeves and two workers in which something is killed at random: a worker, the broker, the database or all relays, each started again after
 * some seconds. Afterwards every feed is held against the same capture at home. 100 kills; `--quick`: 12.
 */
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { PlainError } from '../../src/base/errors.ts';
import { noBroker } from '../support/broker.ts';
import { noPostgres } from '../support/postgres.ts';
import { seededRandom } from '../support/random.ts';
import { type CheckedFeed, checkedFeeds } from '../support/ward/checks.ts';
import type { CotReport } from '../support/ward/cots.ts';
import { startWard, type Ward } from '../support/ward/ward.ts';
import { printTable } from './table.ts';

const SLEEVES = 5;
const FEED_SEC = 240;
/** From the start until feeds run, and after the last byte until all is kept. */
const BEFORE_SEC = 50;
const AFTER_SEC = 25;
const KINDS = ['worker', 'broker', 'database', 'relays'] as const;
type Kind = (typeof KINDS)[number];

interface Told {
  kills: Record<Kind, number>;
  sleeves: number;
  feeds: number;
  wrong: string[];
  /** Bytes that sleeves sent while no relay lived. */
  unheardBytes: number;
  /** Sleeves that still took guidance 2 s after the broker was dead. */
  litAfterBroker: number;
}

export async function benchWardKills(flags: ReadonlySet<string>): Promise<void> {
  const missing = noBroker ?? noPostgres;
  if (missing !== null) return console.log(`\nNo kills: ${missing}.`);
  const wanted = flags.has('quick') ? 12 : 100;
  const told: Told = {
    kills: { worker: 0, broker: 0, database: 0, relays: 0 },
    ...{ sleeves: 0, feeds: 0 },
    wrong: [],
    unheardBytes: 0,
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
      `${told.sleeves} sleeves, each in one feed; ${told.feeds} feeds were kept. Faults: ${told.wrong.length}.`,
      ...told.wrong.slice(0, 20),
      `Sleeves that were still guided 2 s after the broker had died: ${told.litAfterBroker}.`,
      `What sleeves sent while their relay was dead is lost to everybody, as from a pulled plug: ${told.unheardBytes} bytes, and no others.`,
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
    const untilMs = performance.now() + (FEED_SEC - BEFORE_SEC - 35) * 1000;
    const killedSoFar: string[] = [];
    while (kills < most && performance.now() < untilMs) {
      const kind = KINDS[Math.floor(random() * KINDS.length)]!;
      const startedMs = performance.now();
      await killed(ward, kind, random, told);
      killedSoFar.push(`${kind} at ${Math.round(startedMs / 1000)} s`);
      told.kills[kind] += 1;
      kills += 1;
      await pause(1500 + random() * 3000);
    }
    while ((await ward.cots.report()).some(({ sentBytes }) => sentBytes < ward.bytes.length))
      await pause(500);
    await pause(AFTER_SEC * 1000);
    console.log(`  ${killedSoFar.join(', ')}`);
    const heard = (sleeve: number) => heardBytes(join(folder, 'relays', String(sleeve)));
    hold(await keptAtLast(ward, heard), heard, ward, told);
    if (told.wrong.length > 0) await tellAll(ward);
  } finally {
    for (const end of ends.reverse()) await end();
    rmSync(folder, { recursive: true, force: true });
  }
  return kills;
}

/** @returns the bytes that the sleeve's relay stored; bytes sent while no relay ran are lost */
function heardBytes(log: string): Uint8Array {
  const files = readdirSync(log).filter((name) => name.endsWith('.bytes'));
  return Buffer.concat(files.sort().map((name) => readFileSync(join(log, name))));
}

/** Each sleeve has one feed, with every byte that its relay heard from its begin to the last one, and what it is at home. */
function hold(kept: CheckedFeed[], heard: (sleeve: number) => Uint8Array, ward: Ward, told: Told): void {
  told.sleeves += SLEEVES;
  told.feeds += kept.length;
  for (let sleeve = 1; sleeve <= SLEEVES; sleeve++) {
    const its = kept.filter((one) => one.sleeve === sleeve);
    const wrong = its.flatMap((one) => one.wrong);
    const { length } = heard(sleeve);
    if (its.length !== 1)
      wrong.push(`${its.length} feeds, from byte ${its.map(({ from }) => from).join(', ')}`);
    if (its[0]?.to !== length) wrong.push(`it ends at byte ${its[0]?.to} of ${length}`);
    told.unheardBytes += ward.bytes.length - length;
    if (wrong.length > 0) {
      told.wrong.push(`sleeve ${sleeve}: ${wrong.join('; ')}`);
      console.log(`  ${told.wrong.at(-1)}`);
    }
  }
}

/** A database that was just started again may not answer yet. */
async function keptAtLast(ward: Ward, heard: (sleeve: number) => Uint8Array): Promise<CheckedFeed[]> {
  for (let tries = 5; ; tries--) {
    try {
      return ward.read((store) => checkedFeeds(store, heard, ward.calibration));
    } catch (error) {
      if (tries === 0 || !(error instanceof PlainError)) throw error;
      await pause(5000);
    }
  }
}

/** For finding a fault: prints the last output of relays and workers. */
async function tellAll(ward: Ward): Promise<void> {
  for (const { number, said, beats } of await ward.cots.report())
    console.log(`  relay ${number}: guided ${beats.at(-1)?.[1]}; ${said.slice(-3).join(' | ')}`);
  for (const [i, url] of ward.healthUrls().entries())
    console.log(
      `  worker ${i}: ${await (await fetch(`${url}/health`)).text()}\n${ward.workers[i]!.said.slice(-8).join('')}`,
    );
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
