/** Simulated feeds for teaching. Each is worked out once and then kept; there are few, so nobody can keep the program busy with them. */
import type { FastifyInstance } from 'fastify';
import type { ErrorAnswer, PracticeFeeds } from './answers.ts';

/** Babies to choose from, by seed 1 to this. */
export const PRACTICE_BABIES = 9;

/** @param seed  the same seed gives the same two feeds */
export type PracticePair = (seed: number) => Promise<PracticeFeeds>;

const NO_SUCH_BABY: ErrorAnswer = {
  error: {
    code: 'no-such-practice',
    message: 'There is no such pair of practice feeds.',
    remedy: `Ask for one of 1 to ${PRACTICE_BABIES}.`,
  },
};

export function addPracticeRoutes(app: FastifyInstance, pair: PracticePair): void {
  const made = new Map<number, Promise<PracticeFeeds>>();
  /** One at a time. */
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
