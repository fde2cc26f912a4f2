/** A process that guides the sleeves of a house: the thread of its store, the jobs of studies, its worker, and how it is. */
import { monotonic } from '../../../firmware-bridge/links/monotonic.ts';
import { type DatabaseChoice, databaseAddress, isDatabaseUrl } from '../../store/postgres/address.ts';
import { tellTrouble } from '../kept/tell-trouble.ts';
import { type BrokerChoice, brokerAndPlace, newId } from '../relay/broker-choice.ts';
import { serveHealth } from '../serve-health.ts';
import { thisProgram } from '../study/recompute/program.ts';
import { healthOf, metricsOf } from './health.ts';
import { startJobs } from './jobs/start-jobs.ts';
import { startStoreThread } from './storing/store-thread.ts';
import { Worker } from './worker.ts';

export interface WorkAsked extends BrokerChoice, DatabaseChoice {
  room?: string;
  simulated?: boolean;
  mostSleeves: number;
  healthAddress: string;
  healthPort: number;
}

const STORING_CLOSES_MS = 3000;

/**
 * @param closing takes what ends it, in the order in which it was begun @param say told what is the matter
 * @returns what it does now, in words
 * @throws PlainError for a bad address or name, or a port in use
 */
export async function startWorking(
  asked: WorkAsked,
  closing: (() => unknown)[],
  say: (text: string) => void,
): Promise<string[]> {
  const { site, room, simulated = false, mostSleeves, healthPort, healthAddress } = asked;
  // A name is checked where it is given; without one all sites or rooms are meant.
  const { address } = brokerAndPlace({ ...asked, site: site ?? 'all', room: room ?? 'all' });
  const { database, databasePasswordFile, databaseCa, databasePlain } = asked;
  const choice = { database, site, databasePasswordFile, databaseCa, databasePlain, simulated };
  if (isDatabaseUrl(database)) databaseAddress(choice);
  const storing = startStoreThread(choice, {
    onFault: (fault) => say(`Storing feeds met a fault: ${fault}`),
  });
  closing.push(() =>
    Promise.race([storing.close(), new Promise((resolve) => setTimeout(resolve, STORING_CLOSES_MS))]),
  );
  const { front } = storing;
  const jobs = isDatabaseUrl(database) ? startJobs({ ...choice, ...thisProgram() }, { say }) : null;
  front.said$.subscribe(say);
  const of = { address, site: site ?? null, room: room ?? null, front, mostSleeves };
  const worker = new Worker({ ...of, id: newId(), wallNowMs: () => Date.now(), say }, monotonic);
  closing.push(() => Promise.all([worker.close(), jobs?.close()]));
  closing.push(tellTrouble(() => front.trouble?.text ?? null, say));
  const working = { worker, front, jobs };
  const health = await serveHealth(
    { health: () => healthOf(working), metrics: metricsOf(working) },
    { address: healthAddress, port: healthPort },
  );
  // Last of all: whoever asks may hold on to the connection.
  closing.unshift(() => health.close());
  return [
    `Ebbline guides the sleeves of ${site ? `site "${site}"` : 'all sites'}${room ? `, room "${room}"` : ''} at ${address.label}.`,
    `Health and metrics: ${health.url}/health, ${health.url}/metrics. Stop with Ctrl-C.`,
  ];
}
