/** Routes of the page for babies, on a service whose answers the test sets. */
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { BabyAnswer, BabyService } from '../../src/app/babies/baby-answers.ts';
import { FieldError, PlainError } from '../../src/base/errors.ts';
import { buildApp } from '../../src/server/app.ts';
import { babyEntry } from '../support/babies.ts';
import { FakeLive } from '../support/fake-live.ts';

const ANSWER: BabyAnswer = {
  baby: { ...babyEntry(), id: 'b-1', createdAtMs: 1, answeredAtMs: 1, quietSinceMs: null },
  notices: ['quieter'],
  ownFeed: null,
  learnedUsualMl: 90,
};

function appWith(service: Partial<BabyService> | null) {
  const webFolder = mkdtempSync(join(tmpdir(), 'ebbline-page-'));
  writeFileSync(join(webFolder, 'index.html'), '<!doctype html>');
  const app = buildApp(
    {
      live: new FakeLive(),
      feeds: { list: () => [], get: () => null },
      graph: () => '',
      webFolder,
      ...(service && { babies: service as BabyService }),
    },
    () => 4140,
  );
  const headers = { host: '127.0.0.1:4140', origin: 'http://127.0.0.1:4140' };
  const post = (url: string, payload: object = {}) => app.inject({ method: 'POST', url, payload, headers });
  const get = (url: string) => app.inject({ method: 'GET', url, headers });
  return { post, get };
}

describe('babies', () => {
  test('are listed, added, changed, and have their quiet taken back', async () => {
    const asked: unknown[] = [];
    const noting = (...what: unknown[]) => {
      asked.push(what);
      return ANSWER;
    };
    const { post, get } = appWith({
      babies: () => ({ babies: [ANSWER], questions: [], planFigures: {} as never }),
      add: (entry) => noting('add', entry),
      change: (id, entry) => noting('change', id, entry),
      undoQuiet: (id) => noting('undo', id),
    });
    const listed = await get('/babies');
    expect(listed.headers['cache-control']).toBe('no-store');
    expect(listed.json()).toMatchObject({ babies: [ANSWER] });
    expect((await post('/babies', babyEntry())).json()).toEqual(ANSWER);
    await post('/babies/b-1', babyEntry({ pace: 'gentle' }));
    await post('/babies/b-1/undo-quiet');
    expect(asked).toEqual([
      ['add', babyEntry()],
      ['change', 'b-1', babyEntry({ pace: 'gentle' })],
      ['undo', 'b-1'],
    ]);
  });

  test('wrongly entered are refused at the field', async () => {
    const { post } = appWith({
      add: () => {
        throw new FieldError('baby-invalid', 'plan.from', 'plan.from must not be empty.', 'Correct it.');
      },
      change: () => {
        throw new PlainError('store-no-baby', 'This baby is not kept here.', 'Choose one.');
      },
    });
    const refused = await post('/babies', {});
    expect(refused.statusCode).toBe(422);
    expect(refused.json()).toEqual({
      error: {
        code: 'baby-invalid',
        field: 'plan.from',
        message: 'plan.from must not be empty.',
        remedy: 'Correct it.',
      },
    });
    expect((await post('/babies/nobody', {})).json().error).not.toHaveProperty('field');
  });

  test('are not entered where nobody keeps them', async () => {
    const { get } = appWith(null);
    expect((await get('/babies')).statusCode).toBe(404);
  });
});
