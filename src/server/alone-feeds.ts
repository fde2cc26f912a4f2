/** Route of the feeds that sleeves stored without a computer. */
import type { FastifyInstance } from 'fastify';
import type { AloneFeedsAnswer } from './answers.ts';

export type GiveAloneFeeds = () => AloneFeedsAnswer;

export function addAloneFeeds(app: FastifyInstance, give?: GiveAloneFeeds): void {
  app.get('/alone-feeds', async (_request, reply): Promise<AloneFeedsAnswer> => {
    reply.header('cache-control', 'no-store');
    return give?.() ?? { feeds: [], zone: 'UTC' };
  });
}
