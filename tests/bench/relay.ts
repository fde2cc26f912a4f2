/**
 * Sleeves through one broker, in real time: from the sample at the relay to the bytes of an answer back at it, and the processor that a
 * sleeve costs. Relays and guides run in this one process, the broker in its own; the same engines without a broker stand beside.
 */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { brokerAddress } from '../../firmware-bridge/links/broker/broker-address.ts';
import { createBrokerLink } from '../../firmware-bridge/links/broker/broker-link.ts';
import { createRelay } from '../../firmware-bridge/links/broker/relay.ts';
import type { SleeveLink } from '../../firmware-bridge/links/link.ts';
import { encodeMessage, MESSAGES } from '../../firmware-bridge/wire/index.ts';
import { newId } from '../../src/app/relay/broker-choice.ts';
import { createEngine, runEngine } from '../../src/feed/engine.ts';
import { type Calibration, parseCalibration } from '../../src/sensing/index.ts';
import { PLAIN } from '../../src/simulation/real-hand.ts';
import { noBroker } from '../support/broker.ts';
import { type HandPort, handPort, IDENTITY, PLACE } from '../support/relayed.ts';
import { simulateCapture } from '../support/simulated-capture.ts';
import { type Cell, fixed, printTable, quantile } from './table.ts';

const FRAME_BYTES = 31;
const FRAMES_PER_SEC = 80;
const GUIDES = encodeMessage(MESSAGES.HEARTBEAT, { guidanceOn: 1 });
const BEAT_FRAMES = 40;
const TICKS_PER_SEC = 100;

interface Cost {
  latencyMs: number[];
  /** Share of one core: this process, and the broker. */
  ownShare: number;
  brokerShare: number;
}

export async function benchRelay(flags: ReadonlySet<string>): Promise<void> {
  if (noBroker !== null) return console.log(`\nNo relay: ${noBroker}.`);
  const seconds = flags.has('quick') ? 6 : 20;
  const { bytes, calibration } = simulateCapture({
    scenario: 'hurried-start',
    seed: 1,
    overrides: PLAIN,
    longestSec: 60,
  });
  const checked = parseCalibration(calibration, 'of the simulated sleeve');
  const folder = mkdtempSync(join(tmpdir(), 'ebbline-relay-'));
  const broker = await startBroker(folder);
  const rows: Cell[][] = [];
  try {
    for (const count of [1, 5, 20]) {
      const far = await measured(count, seconds, bytes, checked, { folder, ...broker });
      const near = await measured(count, seconds, bytes, checked, null);
      rows.push([
        count,
        far.latencyMs.length,
        ...[0.5, 0.99, 1].map((share) => fixed(quantile(far.latencyMs, share), 1)),
        ...[far.ownShare, near.ownShare, far.brokerShare].map((share) => fixed((100 * share) / count)),
      ]);
    }
  } finally {
    broker.child.kill('SIGKILL');
    rmSync(folder, { recursive: true, force: true });
  }
  printTable(
    'From the sample at the relay to the bytes of the answer back at it, ms; processor a sleeve, % of one core',
    ['sleeves', 'answers', 'p50', 'p99', 'max', 'relay+guide', 'engine alone', 'broker'],
    rows,
    [
      `${seconds} s of 80 samples a second each, real clock; the log on disk; one answer each ${BEAT_FRAMES} samples, by a guide whose engine ran.`,
      'A relay gathers for 100 ms: half of that, on the average, is the larger part of the p50. Beyond 20 sleeves the one core of Node limits it, not the broker.',
      'The broker runs with set_tcp_nodelay; without it each answer waits some 30 ms more for a receipt.',
    ],
  );
}

async function startBroker(folder: string) {
  const server = createServer().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const { port } = server.address() as { port: number };
  server.close();
  await once(server, 'close');
  const path = `${process.env.PATH}:/usr/sbin`;
  const file = join(folder, 'broker.conf');
  writeFileSync(file, `listener ${port} 127.0.0.1\nallow_anonymous true\nset_tcp_nodelay true\n`);
  const child = spawn('mosquitto', ['-c', file], {
    env: { PATH: path },
    stdio: ['ignore', 'ignore', 'pipe'],
  });
  await new Promise<void>((resolve) => {
    let log = '';
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      log = (log + text).slice(-2000);
      if (/running/.test(log)) resolve();
    });
  });
  return { child, pid: child.pid!, address: brokerAddress({ broker: `mqtt://localhost:${port}` }) };
}

/** Processor time of a process, seconds (Linux: /proc/PID/stat, clock ticks of 10 ms). */
function processorSec(pid: number): number {
  const fields = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')[1]!.split(' ');
  return (Number(fields[11]) + Number(fields[12])) / TICKS_PER_SEC;
}

type Far = Pick<Awaited<ReturnType<typeof startBroker>>, 'address' | 'pid'> & { folder: string };

interface RelayedSleeve {
  port: HandPort;
  close(): Promise<unknown>;
}

async function relayedSleeve(
  number: number,
  calibration: Calibration,
  far: Far | null,
): Promise<RelayedSleeve> {
  const port = handPort();
  const identity = { ...IDENTITY, sleeveNumber: number };
  const relay =
    far &&
    createRelay({
      link: port,
      identity,
      address: far.address,
      place: PLACE,
      folder: join(far.folder, newId()),
      newId,
      say: () => {},
    });
  const link: SleeveLink = far
    ? createBrokerLink({ address: far.address, place: PLACE, sleeveNumber: number, newId })
    : port;
  const engine = createEngine({ calibration, portionMl: null, refinable: false });
  let frames = 0;
  let rest = 0;
  link.bytes$.subscribe((bytes) => {
    runEngine(engine, bytes, () => {});
    rest += bytes.length;
    for (; rest >= FRAME_BYTES; rest -= FRAME_BYTES) {
      if (frames++ % BEAT_FRAMES !== 0) continue;
      link.write(GUIDES);
      // The tone's frequency encodes the frame that it answers.
      link.write(encodeMessage(MESSAGES.SOUND, { frequencyHz: frames - 1, onMs: 1, offMs: 1, repeats: 1 }));
    }
  });
  await link.open();
  return { port, close: async () => Promise.all([relay?.close(), far && link.close()]) };
}

async function measured(
  count: number,
  seconds: number,
  bytes: Uint8Array,
  calibration: Calibration,
  far: Far | null,
): Promise<Cost> {
  const sleeves = await Promise.all(
    Array.from({ length: count }, (_, i) => relayedSleeve(i + 1, calibration, far)),
  );
  const sentAtMs = sleeves.map(() => new Map<number, number>());
  const latencyMs: number[] = [];
  sleeves.forEach(({ port }, sleeve) => {
    const write = port.write.bind(port);
    port.write = (out) => {
      write(out);
      for (const one of port.heard.splice(0)) {
        const atMs = one.kind === 'sound' ? sentAtMs[sleeve]!.get(one.frequencyHz) : undefined;
        if (atMs !== undefined) latencyMs.push(performance.now() - atMs);
      }
    };
  });
  const startedMs = performance.now();
  const own = process.cpuUsage();
  const brokerBefore = far ? processorSec(far.pid) : 0;
  const frames = Math.min(seconds * FRAMES_PER_SEC, Math.floor(bytes.length / FRAME_BYTES));
  for (let frame = 0; frame < frames; frame++) {
    const dueMs = startedMs + (frame * 1000) / FRAMES_PER_SEC;
    const aheadMs = dueMs - performance.now();
    if (aheadMs > 0) await pause(aheadMs);
    sleeves.forEach(({ port }, sleeve) => {
      sentAtMs[sleeve]!.set(frame, performance.now());
      port.send(bytes.subarray(frame * FRAME_BYTES, (frame + 1) * FRAME_BYTES));
    });
  }
  const tookSec = (performance.now() - startedMs) / 1000;
  const { user, system } = process.cpuUsage(own);
  const brokerShare = far ? (processorSec(far.pid) - brokerBefore) / tookSec : 0;
  await pause(300);
  for (const sleeve of sleeves) await sleeve.close();
  return { latencyMs, ownShare: (user + system) / 1e6 / tookSec, brokerShare };
}
