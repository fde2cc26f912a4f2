/** `ebbline work`: guides a house's sleeves until it is stopped. The work is in `app/work`. */
import { realpathSync } from 'node:fs';
import { monotonic } from '../../firmware-bridge/links/monotonic.ts';
import { type BrokerChoice, brokerAndPlace, newId, type PlaceChoice } from '../app/relay/broker-choice.ts';
import { serveHealth } from '../app/serve-health.ts';
import { programSha256 } from '../app/study/recompute/program.ts';
import { healthOf, metricsOf } from '../app/work/health.ts';
import { startJobs } from '../app/work/jobs/start-jobs.ts';
import { startStoreThread } from '../app/work/storing/store-thread.ts';
import { Worker } from '../app/work/worker.ts';
import { databaseAddress, isDatabaseUrl } from '../store/postgres/address.ts';
import { say } from './print-out.ts';
import { sayOnce } from './say-once.ts';
import { stopSignals } from './stop-signals.ts';

export type WorkOptions = BrokerChoice &
  PlaceChoice & {
    database: string;
    databasePasswordFile?: string;
    databaseCa?: string;
    databasePlain?: boolean;
    simulated?: boolean;
    mostSleeves: number;
    healthPort: number;
    healthAddress: string;
  };

export async function workCommand(options: WorkOptions): Promise<void> {
  const { site, room, simulated = false, mostSleeves, healthPort, healthAddress } = options;
  // A name is checked where it is given; without one all sites or rooms are meant.
  const { address } = brokerAndPlace({ ...options, site: site ?? 'all', room: room ?? 'all' });
  const { database, databasePasswordFile, databaseCa, databasePlain } = options;
  const choice = { database, site, databasePasswordFile, databaseCa, databasePlain, simulated };
  if (isDatabaseUrl(database)) databaseAddress(choice);
  const err = (text: string): void => void process.stderr.write(`ebbline: ${text.trim()}\n`);
  const storing = startStoreThread(choice, {
    onFault: (fault) => err(`Storing feeds met a fault: ${fault}`),
  });
  const { front } = storing;
  const jobs = isDatabaseUrl(database)
    ? startJobs({ ...choice, programSha256: programSha256(realpathSync(process.argv[1]!)) }, { say: err })
    : null;
  front.said$.subscribe(err);
  const worker = new Worker(
    {
      ...{ address, site: site ?? null, room: room ?? null, front, mostSleeves },
      id: newId(),
      wallNowMs: () => Date.now(),
      say: err,
    },
    monotonic,
  );
  const sayTrouble = sayOnce(() => front.trouble?.text ?? null, err);
  const looking = setInterval(sayTrouble, 1000);
  const closing = async (): Promise<void> => {
    clearInterval(looking);
    await Promise.all([worker.close(), jobs?.close()]);
    await Promise.race([storing.close(), new Promise((resolve) => setTimeout(resolve, 3000))]);
  };
  try {
    const working = { worker, front, jobs };
    const health = await serveHealth(
      { health: () => healthOf(working), metrics: metricsOf(working) },
      { address: healthAddress, port: healthPort },
    );
    const stop = stopSignals();
    say([
      `Ebbline guides the sleeves of ${site ? `site "${site}"` : 'all sites'}${room ? `, room "${room}"` : ''} at ${address.label}.`,
      `Health and metrics: ${health.url}/health, ${health.url}/metrics. Stop with Ctrl-C.`,
    ]);
    await stop.first;
    await closing();
    await health.close();
    stop.letGo();
    process.exit(0);
  } catch (error) {
    await closing();
    throw error;
  }
}
