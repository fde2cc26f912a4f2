/**
 * A house's sleeves, 1 to 200, each at 80 samples a second, with two workers, a real broker and a real PostgreSQL: how long from the sample at the relay to
 * its cue's light back at it, what it costs, and whether a byte is lost. Relays and sleeves run in one process more. `--quick`: fewer sleeves, shorter.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { readCapture } from '../../firmware-bridge/links/capture-file.ts';
import { createEngine, type Engine, runEngine } from '../../src/feed/engine.ts';
import { lightFor } from '../../src/feed/live/light-language.ts';
import { asItRan } from '../../src/feed/replay.ts';
import type { ShownCue } from '../../src/pacing/cues/cue.ts';
import { noBroker } from '../support/broker.ts';
import { noPostgres } from '../support/postgres.ts';
import type { CotReport } from '../support/ward/cots.ts';
import { processorSec, startWard, type Ward } from '../support/ward/ward.ts';
import { fixed, printTable, quantile } from './table.ts';
import { drawWard, type WardPoint } from './ward-picture.ts';

const FIRST_CUES_SEC = 100;
/** Light that comes later than this is not counted as the answer to the cue. */
const ANSWER_MS = 3000;

export async function benchWard(flags: ReadonlySet<string>): Promise<void> {
  const missing = noBroker ?? noPostgres;
  if (missing !== null) return console.log(`\nNo ward: ${missing}.`);
  const points: WardPoint[] = [];
  for (const sleeves of flags.has('quick') ? [1, 10] : [1, 25, 50, 100, 150, 200]) {
    points.push(await measured(sleeves));
    console.log(JSON.stringify(points.at(-1)));
  }
  printTable(
    'Two workers, mosquitto, PostgreSQL: from the sample at the relay to its cue at it, ms; processor, % of one core',
    [
      'sleeves',
      'cues',
      'p50',
      'p99',
      'max',
      'bytes lost',
      'workers',
      'broker',
      'relays',
      'a sleeve',
      'M/D/c wait',
    ],
    points.map((one) => [
      one.sleeves,
      one.answers,
      fixed(one.p50Ms, 0),
      fixed(one.p99Ms, 0),
      fixed(one.maxMs, 0),
      one.lostBytes,
      fixed(one.workersShare * 100, 0),
      fixed(one.brokerShare * 100, 0),
      fixed(one.relaysShare * 100, 0),
      fixed((one.workersShare * 100) / one.sleeves, 2),
      fixed(one.queueMs, 2),
    ]),
    [
      'Sleeves begin within 20 s of one another, so that cues do not come at once. Lost: bytes that a relay could not hand on by the end.',
      'M/D/c wait: mean time in a queue of two servers, by the approximation of Cosmetatos (from memory), for a message of 100 ms of bytes; what is beyond it is',
      'gathering at the relay (50 ms on the average), the broker, and the other processes of this computer.',
    ],
  );
  writeFileSync('pictures/ward-cost.svg', drawWard(points));
}

async function measured(sleeves: number): Promise<WardPoint> {
  const folder = mkdtempSync(join(tmpdir(), 'ebbline-ward-'));
  const ends: (() => Promise<void>)[] = [];
  try {
    const ward = await startWard({
      ...{ folder, sleeves, workers: 2, database: 'postgres', seconds: FIRST_CUES_SEC, spreadSec: 20 },
      whenOver: (end) => ends.push(end),
    });
    await pause(25_000);
    const before = costOf(ward);
    await pause(70_000);
    const after = costOf(ward);
    await pause(32_000);
    const reports = await ward.cots.report();
    const ms = answers(ward, reports);
    const took = after.atSec - before.atSec;
    const share = (what: 'workers' | 'broker' | 'relays'): number => (after[what] - before[what]) / took;
    const workersShare = share('workers');
    const kept = ward.read((store) => store.list({ limit: 1000 }).length);
    if (kept < sleeves) console.log(`  ${kept} feeds of ${sleeves} sleeves were kept`);
    return {
      ...{ sleeves, answers: ms.length, workersShare },
      p50Ms: quantile(ms, 0.5),
      p99Ms: quantile(ms, 0.99),
      maxMs: Math.max(...ms),
      lostBytes: reports.reduce((sum, { lostBytes }) => sum + lostBytes, 0),
      brokerShare: share('broker'),
      relaysShare: share('relays'),
      queueMs: queueMs(sleeves, workersShare),
    };
  } finally {
    for (const end of ends.reverse()) await end();
    rmSync(folder, { recursive: true, force: true });
  }
}

const costOf = ({ workers, broker, cots }: Ward) => ({
  atSec: performance.now() / 1000,
  workers: workers.reduce((sum, { pid }) => sum + processorSec(pid), 0),
  broker: processorSec(broker.pid),
  relays: processorSec(cots.pid),
});

/** For each cue that was kept: from when the sample that made it was sent to the first light of its kind after it. */
function answers(
  { bytes, calibration, startsAtMs, bytesPerSec, read }: Ward,
  reports: CotReport[],
): number[] {
  const lightsOf = new Map(reports.map(({ number, lights }) => [number, lights]));
  return read((store) =>
    store.list({ limit: 1000 }).flatMap(({ id }) => {
      const feed = store.get(id)!;
      const capture = Buffer.from(readCapture(store.capturePath(id)!).bytes);
      const from = Buffer.from(bytes).indexOf(capture.subarray(0, 200));
      const number = Number(feed.sleeveId);
      return cuesIn(capture, createEngine(asItRan(feed, calibration))).flatMap(({ atByte, kind }) => {
        const sentAtMs = startsAtMs[number - 1]! + (1000 * (from + atByte)) / bytesPerSec;
        const { red, green, blue } = lightFor(kind, false, 0);
        const answer = lightsOf
          .get(number)!
          .find(([atMs, r, g, b]) => atMs >= sentAtMs && r === red && g === green && b === blue);
        const ms = answer ? answer[0] - sentAtMs : Number.POSITIVE_INFINITY;
        return ms <= ANSWER_MS ? [ms] : [];
      });
    }),
  );
}

/** @returns where in a capture cues fire: the byte after which they do */
function cuesIn(capture: Uint8Array, engine: Engine): { atByte: number; kind: ShownCue }[] {
  const cues: { atByte: number; kind: ShownCue }[] = [];
  const step = 92;
  for (let at = 0; at < capture.length; at += step) {
    const atByte = Math.min(capture.length, at + step);
    runEngine(engine, capture.subarray(at, atByte), ({ cues: fired }) => {
      for (const { kind } of fired) cues.push({ atByte, kind });
    });
  }
  return cues;
}

/** Messages of 100 ms of bytes at two workers: M/M/2 by Erlang's C, halved for fixed work, with the correction of Cosmetatos (1975), from memory. */
function queueMs(sleeves: number, workersShare: number): number {
  const [servers, perSec] = [2, sleeves * 10];
  const serviceSec = workersShare / perSec;
  const load = workersShare / servers;
  if (load >= 1) return Number.POSITIVE_INFINITY;
  const offered = workersShare;
  const waits = offered ** 2 / 2 / (1 - load);
  const erlangC = waits / (1 + offered + waits);
  const mm = (erlangC * serviceSec) / (servers * (1 - load));
  const correction =
    1 + ((1 - load) * (servers - 1) * (Math.sqrt(4 + 5 * servers) - 2)) / (16 * load * servers);
  return (1000 * correction * mm) / 2;
}
