/** Simulated feeds for teaching. Each is computed once and cached; there are few, so requests cannot overload the program. */
import type { FastifyInstance } from 'fastify';
import type { PracticeFeeds, TechniqueLines } from '../app/practice/practice-answers.ts';
import type { KeptFeed } from '../feed/record/feed.ts';
import type { ErrorAnswer } from './answers.ts';
import type { FeedReader } from './needs.ts';

/** Babies to choose from, by seed 1 to this. */
const PRACTICE_BABIES = 9;

/** @param seed  the same seed gives the same two feeds */
export type PracticePair = (seed: number) => Promise<PracticeFeeds>;

const NO_SUCH_FEED: ErrorAnswer = {
  error: {
    code: 'no-such-feed',
    message: 'There is no ended feed of that name.',
    remedy: 'End the practice run first.',
  },
};
/** Says how a feed was given. */
export type DescribeTechnique = (feed: KeptFeed) => TechniqueLines;

const NO_SUCH_BABY: ErrorAnswer = {
  error: {
    code: 'no-such-practice',
    message: 'There is no such pair of practice feeds.',
    remedy: `Ask for one of 1 to ${PRACTICE_BABIES}.`,
  },
};

/** Only a feed that is over is described. */
export function addTechniqueRoute(
  app: FastifyInstance,
  feeds: FeedReader,
  describe: DescribeTechnique,
): void {
  app.get<{ Params: { id: string } }>('/practice/technique/:id', async (request, reply) => {
    reply.header('cache-control', 'no-store');
    const feed = feeds.get(request.params.id);
    return feed?.state === 'ended' ? describe(feed) : reply.code(404).send(NO_SUCH_FEED);
  });
}

export function addPracticeRoutes(app: FastifyInstance, pair: PracticePair): void {
  const made = new Map<number, Promise<PracticeFeeds>>();
  /** Computes one at a time. */
  let last: Promise<unknown> = Promise.resolve();
  const pairOf = (seed: number): Promise<PracticeFeeds> => {
    const before = made.get(seed);
    if (before) return before;
    const now = last.then(() => pair(seed));
    last = now.catch(() => made.delete(seed));
    made.set(seed, now);
    return now;
  };
  app.get<{ Params: { seed: string } }>('/practice/:seed', async (request, reply) => {
    const seed = Number(request.params.seed);
    if (!Number.isInteger(seed) || seed < 1 || seed > PRACTICE_BABIES) {
      return reply.code(404).header('cache-control', 'no-store').send(NO_SUCH_BABY);
    }
    return pairOf(seed);
  });
}
