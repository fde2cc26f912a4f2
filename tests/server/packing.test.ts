/** Routes of packing and milk: requests reach the service, a refusal names its field, and sheets may run no script. */
import { describe, expect, it } from 'vitest';
import type { PackingService } from '../../src/app/packing/packing-answers.ts';
import { FieldError, PlainError } from '../../src/base/errors.ts';
import { HOST, pageApp, pageFolder } from '../support/page-app.ts';

const webFolder = pageFolder();
const asked: unknown[] = [];
const service = {
  start: () => ({ today: '2026-05-12' }),
  plan(ask: unknown) {
    asked.push(ask);
    throw new FieldError('packing-entry', 'feeds', 'feeds: must be at least 1.', 'Correct it and try again.');
  },
  keepSettings: (settings: unknown) => settings,
  milk: () => ({ containers: [] }),
  enterMilk(data: unknown) {
    asked.push(data);
    throw new PlainError('proposal-gone', 'That feed is in the list already.', 'Look at the list again.');
  },
  async sheet(name: string, ending: string, query: unknown) {
    asked.push([name, ending, query]);
    return ending === 'pdf' ? new Uint8Array([37, 80, 68, 70]) : '<!doctype html><p>sheet</p>';
  },
} as unknown as PackingService;

const app = (packing: PackingService | null = service) => pageApp({ webFolder, ...(packing && { packing }) });
const post = (url: string, body: unknown, headers: object = HOST) => ({
  method: 'POST' as const,
  url,
  headers: { 'content-type': 'application/json', ...headers },
  payload: JSON.stringify(body),
});

describe('routes of packing', () => {
  it('answer, and nothing of it is stored by a browser', async () => {
    for (const [url, answer] of [
      ['/packing', { today: '2026-05-12' }],
      ['/milk', { containers: [] }],
    ] as const) {
      const reply = await app().inject({ url, headers: HOST });
      expect(reply.json()).toEqual(answer);
      expect(reply.headers['cache-control']).toBe('no-store');
    }
    expect((await app().inject(post('/packing/settings', { mostBottles: 6 }))).json()).toEqual({
      mostBottles: 6,
    });
  });

  it('say which field is wrong, and what to do', async () => {
    const plan = await app().inject(post('/packing/plan', { feeds: 0 }));
    expect(asked.at(-1)).toEqual({ feeds: 0 });
    expect([plan.statusCode, plan.json()]).toEqual([
      422,
      {
        error: {
          code: 'packing-entry',
          field: 'feeds',
          message: 'feeds: must be at least 1.',
          remedy: 'Correct it and try again.',
        },
      },
    ]);
    const milk = await app().inject(post('/milk', { confirm: { feed: 'f', container: 'A' } }));
    expect([milk.statusCode, milk.json().error.code]).toEqual([422, 'proposal-gone']);
    expect(milk.json().error).not.toHaveProperty('field');
  });

  it('hand out sheets that can run nothing and fetch nothing', async () => {
    const page = await app().inject({ url: '/packing/feeding-plan.html?language=es', headers: HOST });
    expect(page.headers['content-type']).toContain('text/html');
    expect(page.headers['content-security-policy']).toMatch(
      /^default-src 'none'; style-src 'unsafe-inline'; sandbox/,
    );
    expect(asked.at(-1)).toEqual(['feeding-plan', 'html', { language: 'es' }]);
    const pdf = await app().inject({ url: '/packing/day-sheet.pdf', headers: HOST });
    expect(pdf.headers['content-type']).toBe('application/pdf');
    expect(pdf.rawPayload.toString()).toBe('%PDF');
  });

  it('are closed to foreign pages, and absent without a service', async () => {
    for (const url of ['/packing', '/milk', '/packing/feeding-plan.pdf'])
      expect((await app().inject({ url, headers: { host: 'ebbline.example' } })).statusCode).toBe(403);
    const foreign = await app().inject(post('/milk', {}, { ...HOST, origin: 'http://ebbline.example' }));
    expect(foreign.statusCode).toBe(403);
    expect((await app(null).inject({ url: '/packing', headers: HOST })).statusCode).toBe(404);
  });
});
