/** `ebbline work`: guides a house's sleeves until it is stopped. */
import { realpathSync } from 'node:fs';
import { monotonic } from '../../firmware-bridge/links/monotonic.ts';
import { brokerAndPlace, newId } from '../app/relay/broker-choice.ts';
import { serveHealth } from '../app/serve-health.ts';
import { programSha256 } from '../app/study/recompute/program.ts';
import { healthOf, metricsOf } from '../app/work/health.ts';
import { startJobs } from '../app/work/jobs/start-jobs.ts';
import { startStoreThread } from '../app/work/storing/store-thread.ts';
import { Worker } from '../app/work/worker.ts';
import { databaseAddress, isDatabaseUrl } from '../store/postgres/address.ts';
import { untilStopped } from './closing.ts';
import { warn } from './print-out.ts';
import { sayOnce } from './say-once.ts';
import type { WatchGiven } from './watch-commands.ts';

const STORING_CLOSES_MS = 3000;

export async function guideSleeves(options: WatchGiven<'work'>): Promise<void> {
  const { site, room, simulated = false, mostSleeves, healthPort, healthAddress } = options;
  // A name is checked where it is given; without one all sites or rooms are meant.
  const { address } = brokerAndPlace({ ...options, site: site ?? 'all', room: room ?? 'all' });
  const { database, databasePasswordFile, databaseCa, databasePlain } = options;
  const choice = { database, site, databasePasswordFile, databaseCa, databasePlain, simulated };
  if (isDatabaseUrl(database)) databaseAddress(choice);
  const tell = (text: string): void => warn(text.trim());
  await untilStopped(async (closing, greet) => {
    const storing = startStoreThread(choice, {
      onFault: (fault) => tell(`Storing feeds met a fault: ${fault}`),
    });
    closing.push(() =>
      Promise.race([storing.close(), new Promise((resolve) => setTimeout(resolve, STORING_CLOSES_MS))]),
    );
    const { front } = storing;
    const program = { programSha256: programSha256(realpathSync(process.argv[1]!)) };
    const jobs = isDatabaseUrl(database) ? startJobs({ ...choice, ...program }, { say: tell }) : null;
    front.said$.subscribe(tell);
    const id = newId();
    const of = { address, site: site ?? null, room: room ?? null, front, mostSleeves };
    const worker = new Worker({ ...of, id, wallNowMs: () => Date.now(), say: tell }, monotonic);
    closing.push(() => Promise.all([worker.close(), jobs?.close()]));
    const looking = setInterval(
      sayOnce(() => front.trouble?.text ?? null, tell),
      1000,
    );
    closing.push(() => clearInterval(looking));
    const working = { worker, front, jobs };
    const health = await serveHealth(
      { health: () => healthOf(working), metrics: metricsOf(working) },
      { address: healthAddress, port: healthPort },
    );
    // Last of all: whoever asks may hold on to the connection.
    closing.unshift(() => health.close());
    greet([
      `Ebbline guides the sleeves of ${site ? `site "${site}"` : 'all sites'}${room ? `, room "${room}"` : ''} at ${address.label}.`,
      `Health and metrics: ${health.url}/health, ${health.url}/metrics. Stop with Ctrl-C.`,
    ]);
  });
}
