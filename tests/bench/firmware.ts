/**
 * Long campaigns on the emulated chip: twenty minutes of samples, writes, nonsense, floods, unplugging and resets in
 * mid-feed. Fixed seeds; each row tells what was measured and what it must reach.
 */
import { encodeMessage, MESSAGES, SAMPLE_FLAGS } from '../../firmware-bridge/wire/index.ts';
import { agesOf, EmulatedBench, missingIn } from '../support/emulated.ts';
import { flood, mutated, randomBytes } from '../support/hostile-bytes.ts';
import { seededRandom } from '../support/random.ts';
import { interruptedFeed } from './interrupted-feed.ts';

export interface BenchRow {
  what: string;
  measured: string;
  goal: string;
  ok: boolean;
}

const SAMPLES_PER_SEC = 80;
const MINUTE_SEC = 60;

/** @param minutes length of the long run; 20 is the goal's */
export async function benchFirmware(minutes = 20): Promise<BenchRow[]> {
  return [
    ...longRun(minutes),
    lightLatency(400),
    ...nonsense('20,000 random bytes', (bench) => {
      for (let i = 0; i < 20; i++) {
        bench.send(randomBytes(100 + i, 1000));
        bench.run(0.15);
      }
    }),
    ...nonsense('1,000 changed messages', (bench) => {
      for (let seed = 1; seed <= 1000; seed++) {
        bench.send(mutated(seed));
        bench.run(0.01);
      }
    }),
    ...nonsense('a minute of questions at full line rate', (bench) => {
      for (let second = 0; second < 60; second++) {
        bench.send(flood(11_500));
        bench.run(1);
      }
    }),
    ...(await interruptedFeed(100)),
  ];
}

function longRun(minutes: number): BenchRow[] {
  const bench = new EmulatedBench({ chunkSec: 0.025 });
  bench.beat(true);
  bench.run(0.4);
  const started = process.cpuUsage();
  const fromSec = bench.atSec;
  let wrong = 0;
  let latestMicros = Number.NEGATIVE_INFINITY;
  let heard = 0;
  let missing = 0;
  let flagged = 0;
  // From the start of the chip to the start of its clock, the least of all ages: the same for all samples.
  let leastMicros = Number.POSITIVE_INFINITY;
  let last = bench.last;
  for (let minute = 0; minute < minutes; minute++) {
    const samples = bench.run(MINUTE_SEC);
    missing += missingIn([last, ...samples]);
    last = samples.at(-1)!;
    heard += samples.length;
    for (const { cells, timeMicros, flags } of samples) {
      const ages = agesOf(cells, timeMicros / 1e6).map((age) => age * 1e6);
      if (flags !== 0) flagged++;
      if (Math.max(...ages) > 1000 || Math.min(...ages) < -1000) wrong++;
      leastMicros = Math.min(leastMicros, Math.min(...ages));
      latestMicros = Math.max(latestMicros, Math.min(...ages));
    }
    bench.samples.length = 1;
    bench.samples[0] = last;
  }
  const { user, system } = process.cpuUsage(started);
  const speed = (bench.atSec - fromSec) / ((user + system) / 1e6);
  const expected = Math.round((bench.atSec - fromSec) * SAMPLES_PER_SEC);
  const spreadMicros = latestMicros - leastMicros;
  return [
    row(
      `${minutes} min at 80 samples a second: lost`,
      missing + bench.scanner.counts.rejected,
      '0',
      missing === 0 && Math.abs(heard - expected) <= 1,
    ),
    row(`… wrong or flagged of ${heard}`, wrong + flagged, '0', wrong + flagged === 0),
    row(
      '… stamp after the last ready edge, spread',
      `${spreadMicros.toFixed(0)} µs`,
      'under 100 µs',
      spreadMicros < 100,
    ),
    row(
      '… emulator, device seconds in a second of the processor',
      speed.toFixed(1),
      'at least 5',
      speed >= 5,
    ),
  ];
}

function lightLatency(writes: number): BenchRow {
  const bench = new EmulatedBench({ chunkSec: 0.00025 });
  const random = seededRandom(3);
  bench.beat(true);
  bench.run(0.5);
  let worstSec = 0;
  for (let i = 0; i < writes; i++) {
    bench.run(random() * 0.02);
    const level = i % 2 === 0 ? 200 : 30;
    const fromSec = bench.atSec;
    bench.level(5, level);
    while (bench.sleeve.light().green !== level && bench.atSec < fromSec + 0.05) bench.run(0.00025);
    worstSec = Math.max(worstSec, bench.atSec - fromSec);
  }
  const measured = `${(worstSec * 1000).toFixed(2)} ms`;
  return row(
    `a host's write on the light's pin, worst of ${writes}`,
    measured,
    'within 5 ms',
    worstSec < 0.005,
  );
}

function nonsense(what: string, talk: (bench: EmulatedBench) => void): BenchRow[] {
  const bench = new EmulatedBench({ chunkSec: 0.025 });
  bench.run(0.3);
  talk(bench);
  bench.run(0.3);
  bench.send([0xf7], encodeMessage(MESSAGES.STREAM, { on: 1 }));
  bench.run(0.5);
  const lost = missingIn(bench.samples) + bench.scanner.counts.rejected;
  const { watchdog, power } = bench.sleeve.chip.resets;
  const before = bench.identities.length;
  bench.send([0xf0, MESSAGES.IDENTITY.id, 0xf7]);
  const after = bench.run(0.5);
  const recovered = bench.identities.length > before && after.length === SAMPLES_PER_SEC / 2;
  const flagged = bench.samples.filter(({ flags }) => flags & SAMPLE_FLAGS.samplesLost).length;
  return [
    row(
      `${what}: samples lost, resets`,
      `${lost + flagged}, ${watchdog + power - 1}`,
      '0, 0',
      lost + flagged + watchdog === 0,
    ),
    row('… answers and samples afterwards', recovered ? 'yes' : 'no', 'yes', recovered),
  ];
}

const row = (what: string, measured: number | string, goal: string, ok: boolean): BenchRow => ({
  what,
  measured: String(measured),
  goal,
  ok,
});
