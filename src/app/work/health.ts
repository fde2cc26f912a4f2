/** State of a worker. */
import { createMetrics, type HealthAnswer, type Metrics } from '../serve-health.ts';
import type { Jobs } from './jobs/start-jobs.ts';
import type { StoreFront } from './storing/store-front.ts';
import type { Worker } from './worker.ts';

/** The parts of a worker process. */
export interface Working {
  worker: Worker;
  front: StoreFront;
  /** Null: its feeds are stored in a folder. */
  jobs: Pick<Jobs, 'done'> | null;
}

export function healthOf({ worker, front }: Pick<Working, 'worker' | 'front'>): HealthAnswer {
  const troubles = [worker.brokerTrouble, front.trouble].flatMap((trouble) => trouble?.text.trim() ?? []);
  return {
    // A dead database does not stop guidance: it is reported, and a restart would not help.
    isWell: worker.brokerTrouble === null,
    troubles,
    sleeves: worker.sleeves.size,
    feeds: feedsOf(worker),
  };
}

const feedsOf = ({ sleeves }: Worker): number =>
  [...sleeves.values()].filter(({ feedId }) => feedId !== null).length;

export function metricsOf({ worker, front, jobs }: Working): Metrics {
  const metrics = createMetrics();
  const { gauge, counter } = metrics;
  gauge('sleeves', 'Sleeves that this worker guides', () => worker.sleeves.size);
  gauge('sleeves_waiting', 'Sleeves that wait to be taken up', () => worker.waiting);
  gauge('feeds', 'Feeds that run on them', () => feedsOf(worker));
  gauge('broker_up', '1 while the broker is there', () => (worker.brokerTrouble ? 0 : 1));
  gauge('store_up', '1 while the store takes what comes', () => (front.isOpen && !front.trouble ? 1 : 0));
  gauge('store_waiting', 'Parts of feeds that wait to be kept', () => front.waiting);
  counter('sleeves_taken', 'Sleeves taken up since the start', () => worker.taken);
  counter(
    'sleeves_taken_in_feed',
    'Those of them in whose feed another worker had been',
    () => worker.takenInFeed,
  );
  counter('study_sessions_computed', 'Sessions of studies computed since the start', () => jobs?.done ?? 0);
  return metrics;
}
