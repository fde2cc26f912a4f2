import Fastify from 'fastify';
import { expect, it, vi } from 'vitest';
import type { PracticeFeeds } from '../../src/app/practice/practice-answers.ts';
import { addPracticeRoutes, addTechniqueRoute } from '../../src/server/practice-routes.ts';
import { feedReader, keptFeed } from '../support/kept-feeds.ts';

const feed = { rowSec: 0.5, ahead: [0], tiltDeg: [90], teatIn: [true], shown: [] };

it('works each pair out once, one at a time, and none that is not offered', async () => {
  let running = 0;
  const pair = vi.fn(async (): Promise<PracticeFeeds> => {
    running += 1;
    expect(running).toBe(1);
    await null;
    running -= 1;
    return { steep: feed, followed: feed };
  });
  const app = Fastify();
  addPracticeRoutes(app, pair);
  const answers = await Promise.all(['1', '2', '1', '2'].map((seed) => app.inject(`/practice/${seed}`)));
  for (const answer of answers) expect(answer.json()).toEqual({ steep: feed, followed: feed });
  expect(pair.mock.calls).toEqual([[1], [2]]);
  for (const seed of ['0', '10', '1.5', 'one', '-1']) {
    expect((await app.inject(`/practice/${seed}`)).statusCode).toBe(404);
  }
  expect(pair).toHaveBeenCalledTimes(2);
});

it('tries again after a failure', async () => {
  const pair = vi.fn<(seed: number) => Promise<PracticeFeeds>>();
  pair.mockRejectedValueOnce(new Error('no memory')).mockResolvedValueOnce({ steep: feed, followed: feed });
  const app = Fastify();
  addPracticeRoutes(app, pair);
  expect((await app.inject('/practice/3')).statusCode).toBe(500);
  expect((await app.inject('/practice/3')).statusCode).toBe(200);
});

it('says how an ended feed was given, and nothing of one that is open or not there', async () => {
  const app = Fastify();
  const feeds = feedReader([keptFeed(), keptFeed({ id: 'open', state: 'open' })]);
  addTechniqueRoute(app, feeds, (feed) => ({ en: [`of ${feed.id}`], es: [] }));
  expect((await app.inject('/practice/technique/feed-1')).json()).toEqual({ en: ['of feed-1'], es: [] });
  for (const id of ['open', 'none']) {
    expect((await app.inject(`/practice/technique/${id}`)).statusCode).toBe(404);
  }
});
