/** Routes of past feeds: requests reach the service, a refusal names its field, and files may run no script. */
import { describe, expect, it } from 'vitest';
import type { ReviewService } from '../../src/app/review/review-answers.ts';
import { FieldError, PlainError } from '../../src/base/errors.ts';
import { feedReader, keptFeed } from '../support/kept-feeds.ts';
import { HOST, pageApp, pageFolder } from '../support/page-app.ts';
import { reviewOf } from '../support/review-service.ts';

const webFolder = pageFolder();

const KEPT = [keptFeed(), keptFeed({ id: 'feed-2' })];
const real = reviewOf(KEPT, Date.UTC(2026, 10, 25, 12));
const asked: unknown[] = [];
const service: ReviewService = {
  ...real,
  correct(...args) {
    asked.push(args);
    throw new FieldError('entry-invalid', 'leftMl', 'is more than was offered.', 'Correct it.');
  },
  writeFeed(body) {
    asked.push(body);
    return { id: 'hand-1', day: '2026-11-24' };
  },
  takeBackFeed(id) {
    throw new PlainError('store-no-feed', `There is no feed ${id}.`, 'List them.');
  },
};
const app = (review: ReviewService | null = service) =>
  pageApp({ webFolder, feeds: feedReader(KEPT), ...(review && { review }) });
const get = (url: string) => app().inject({ url, headers: HOST });
const post = (url: string, body: unknown, headers: object = HOST) =>
  app().inject({
    method: 'POST',
    url,
    headers: { 'content-type': 'application/json', ...headers },
    payload: JSON.stringify(body),
  });

describe('routes of what happened', () => {
  it('answer, and nothing of it is stored by a browser', async () => {
    for (const url of [
      '/found',
      '/feeds/feed-1/told',
      '/feeds/feed-1/values',
      '/day?day=2026-11-24',
      '/week',
    ]) {
      const answer = await get(url);
      expect([url, answer.statusCode, answer.headers['cache-control']]).toEqual([url, 200, 'no-store']);
    }
    expect((await get('/feeds/feed-1/told?language=es')).json().told.sentence).toContain('Tomó ');
    expect((await get('/day?day=2026-11-24')).json().told.feeds).toHaveLength(2);
    expect((await get('/found')).json()).toMatchObject({ next: null, names: { babies: [{ name: 'Juno' }] } });
  });

  it('say what is not there, and what is no day, in plain words', async () => {
    const none = await get('/feeds/none/told');
    expect([none.statusCode, none.json().error.code]).toEqual([404, 'feed-unknown']);
    const noDay = await get('/day?day=yesterday');
    expect([noDay.statusCode, noDay.json().error.field]).toEqual([422, 'day']);
    expect((await get('/compare.svg?first=feed-1')).statusCode).toBe(422);
    expect((await post('/hand-feeds/x/take-back', {})).statusCode).toBe(404);
  });

  it('files are saved, carry a safe name and may run nothing', async () => {
    for (const [url, type, name] of [
      ['/feeds/feed-1/file.html', 'text/html; charset=utf-8', 'ebbline-feed-1.html'],
      ['/feeds/feed-1/file.pdf', 'application/pdf', 'ebbline-feed-1.pdf'],
      ['/day/file.html?day=2026-11-24', 'text/html; charset=utf-8', 'ebbline-2026-11-24.html'],
    ] as const) {
      const { statusCode, headers } = await get(url);
      expect([statusCode, headers['content-type']]).toEqual([200, type]);
      expect(headers['content-disposition']).toBe(`attachment; filename="${name}"`);
      expect(headers['content-security-policy']).toMatch(/^default-src 'none'/);
    }
    expect((await get('/compare.svg?first=feed-1&second=feed-2')).body).toMatch(/^<svg/);
  });

  it('hand on what is put beside a feed, and stand refusals at the field', async () => {
    const correction = { kind: 'bottle-reading', offeredMl: 1, leftMl: 2 };
    const answer = await post('/feeds/feed-1/corrections?unit=ml', { correction, by: 'J.' });
    expect([answer.statusCode, answer.json().error.field]).toEqual([422, 'leftMl']);
    expect(asked.at(-1)).toEqual(['feed-1', { correction, by: 'J.' }, { unit: 'ml' }]);
    expect((await post('/hand-feeds', { kind: 'breast' })).json()).toEqual({
      id: 'hand-1',
      day: '2026-11-24',
    });
  });

  it('do nothing for a foreign page, and are not there without a service', async () => {
    const before = asked.length;
    const foreign = await post('/hand-feeds', {}, { ...HOST, origin: 'http://ebbline.example' });
    expect(foreign.statusCode).toBe(403);
    expect(asked).toHaveLength(before);
    expect((await app(null).inject({ url: '/found', headers: HOST })).statusCode).toBe(404);
  });
});
