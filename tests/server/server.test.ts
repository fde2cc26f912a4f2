import { request } from 'node:http';
import { join } from 'node:path';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { PlainError } from '../../src/base/errors.ts';
import { buildApp } from '../../src/server/app.ts';
import { createServer, type PageServer, type ServerOptions } from '../../src/server/server.ts';
import { FakeLive, viewOf } from '../support/fake-live.ts';
import { feedReader, plainGraph } from '../support/kept-feeds.ts';
import { HOST, pageFolder } from '../support/page-app.ts';

const webFolder = pageFolder();

const options = (live = new FakeLive(), part: Partial<ServerOptions> = {}): ServerOptions => ({
  live,
  feeds: feedReader(),
  graph: plainGraph,
  webFolder,
  port: 0,
  todayIso: () => '2026-11-25',
  ...part,
});

describe('routes', () => {
  const app = (live?: FakeLive, part?: Partial<ServerOptions>) => buildApp(options(live, part), () => 4620);
  const post = (body: unknown, headers: object = {}) => ({
    method: 'POST' as const,
    url: '/live/commands',
    headers: { ...HOST, 'content-type': 'application/json', ...headers },
    payload: typeof body === 'string' ? body : JSON.stringify(body),
  });

  it('serves the page with a policy that allows its own scripts only', async () => {
    const answer = await app().inject({ url: '/', headers: HOST });
    expect(answer.statusCode).toBe(200);
    expect(answer.body).toContain('<title>page</title>');
    const policy = String(answer.headers['content-security-policy']);
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("script-src 'self'");
    expect(policy).not.toContain('unsafe');
    expect(answer.headers['access-control-allow-origin']).toBeUndefined();
  });

  it('hands a command on', async () => {
    const live = new FakeLive();
    const answer = await app(live).inject(post({ kind: 'mute', on: true }));
    expect(answer.statusCode).toBe(204);
    expect(live.commands).toEqual([{ kind: 'mute', on: true }]);
  });

  it.each([
    ['a wrong command', { kind: 'tip-up' }, {}, 400, 'bad-command'],
    ['broken JSON', '{"kind":', {}, 400, 'bad-request'],
    ['nothing', '', {}, 400, 'bad-request'],
    ['another content type', 'kind=mute', { 'content-type': 'text/plain' }, 415, 'bad-request'],
    ['a form', 'kind=mute', { 'content-type': 'application/x-www-form-urlencoded' }, 415, 'bad-request'],
    ['far too much', { kind: 'x'.repeat(20_000) }, {}, 413, 'bad-request'],
    ['a foreign host', { kind: 'burped' }, { host: 'ebbline.example:4620' }, 403, 'foreign-host'],
    ['a foreign origin', { kind: 'burped' }, { origin: 'http://ebbline.example' }, 403, 'foreign-origin'],
  ])('refuses %s and does nothing', async (_what, body, headers, status, code) => {
    const live = new FakeLive();
    const answer = await app(live).inject(post(body, headers));
    expect(answer.statusCode).toBe(status);
    expect(answer.json().error.code).toBe(code);
    expect(answer.json().error.message).not.toBe('');
    expect(answer.json().error.remedy).not.toBe('');
    expect(answer.headers['cache-control']).toBe('no-store');
    expect(live.commands).toEqual([]);
  });

  it('says in plain words why the live feed would not', async () => {
    const live = new FakeLive();
    live.refuseWith = new PlainError('NO_FEED', 'No feed is open.', 'Start one first.');
    const answer = await app(live).inject(post({ kind: 'end-feed' }));
    expect(answer.statusCode).toBe(409);
    expect(answer.json()).toEqual({
      error: { code: 'NO_FEED', message: 'No feed is open.', remedy: 'Start one first.' },
    });
  });

  it('keeps the inside of a fault to itself', async () => {
    const live = new FakeLive();
    live.refuseWith = new Error('secret path');
    const onError = vi.fn();
    const answer = await app(live, { onError }).inject(post({ kind: 'end-feed' }));
    expect(answer.statusCode).toBe(500);
    expect(answer.body).not.toContain('secret');
    expect(onError).toHaveBeenCalledOnce();
  });

  it('turns a foreign name away from every route', async () => {
    for (const url of ['/', '/live', '/feeds', '/feeds/feed-1/graph.svg', '/nowhere']) {
      const answer = await app().inject({ url, headers: { host: 'ebbline.example' } });
      expect([url, answer.statusCode]).toEqual([url, 403]);
    }
  });

  it('lists the latest feeds, never to be cached', async () => {
    const list = await app().inject({ url: '/feeds', headers: HOST });
    expect(list.json().feeds).toHaveLength(1);
    expect(list.json().feeds[0]).toMatchObject({ id: 'feed-1', simulated: true, cueCount: 3 });
    expect(list.headers['cache-control']).toBe('no-store');
  });

  it('draws the graph at the width and in the unit asked for, within bounds', async () => {
    const graph = vi.fn(plainGraph);
    const server = app(undefined, { graph });
    const answer = await server.inject({ url: '/feeds/feed-1/graph.svg?width=340&unit=ml', headers: HOST });
    expect(answer.headers['content-type']).toContain('image/svg+xml');
    expect(answer.body).toContain('<svg');
    await server.inject({ url: '/feeds/feed-1/graph.svg?width=1e9&unit=furlong', headers: HOST });
    await server.inject({ url: '/feeds/feed-1/graph.svg?width=wide', headers: HOST });
    await server.inject({ url: '/feeds/feed-1/graph.svg?place=page', headers: HOST });
    const asked = graph.mock.calls.map((call: unknown[]) => call[1]);
    const file = { theme: 'light', language: 'en', hasHeading: true, hasNotes: true };
    expect(asked).toEqual([
      { widthPx: 340, volumeUnit: 'ml', ...file },
      { widthPx: 2400, volumeUnit: 'fl-oz', ...file },
      { widthPx: 720, volumeUnit: 'fl-oz', ...file },
      {
        widthPx: 720,
        volumeUnit: 'fl-oz',
        theme: 'inline',
        language: 'en',
        hasHeading: false,
        hasNotes: false,
      },
    ]);
  });

  it.each(['/nothing', '/%', '/%zz', '/feeds/%E0%A4%A'])(
    '%s is nowhere: said in a sentence, to a person with the way back',
    async (url) => {
      const asPage = await app().inject({ url, headers: { ...HOST, accept: 'text/html,*/*' } });
      expect(asPage.statusCode).toBe(404);
      expect(asPage.headers['content-type']).toContain('text/html');
      expect(asPage.body).toContain('<a href="/">');
      const asData = await app().inject({ url, headers: HOST });
      expect(asData.json()).toMatchObject({ error: { code: 'no-such-page' } });
    },
  );

  it('gives a PNG only when it can paint one', async () => {
    const url = '/feeds/feed-1/graph.png';
    expect((await app().inject({ url, headers: HOST })).statusCode).toBe(404);
    const painted = await app(undefined, { png: () => new Uint8Array([137, 80]) }).inject({
      url,
      headers: HOST,
    });
    expect(painted.headers['content-type']).toBe('image/png');
    expect([...painted.rawPayload]).toEqual([137, 80]);
  });

  it.each(['/feeds/none', '/feeds/none/graph.svg', '/nowhere', '/..%2fpackage.json'])(
    'answers 404 to %s',
    async (url) => {
      const answer = await app().inject({ url, headers: HOST });
      expect(answer.statusCode).toBe(404);
      expect(answer.json().error.code).toMatch(/^no-such-/);
    },
  );

  it('will not start without a built page', () => {
    expect(() => app(undefined, { webFolder: join(webFolder, 'none') })).toThrow(PlainError);
  });
});

describe('createServer', () => {
  const open: PageServer[] = [];
  const start = async (part: Partial<ServerOptions> & { live?: FakeLive } = {}) => {
    const server = await createServer(options(part.live, part));
    open.push(server);
    return server;
  };
  afterEach(async () => {
    for (const server of open.splice(0)) await server.close();
  });

  it('streams views as they come, and ends the stream when it closes', async () => {
    const live = new FakeLive(viewOf({ showing: 'waiting' }));
    const { url, close } = await start({ live });
    const answer = await fetch(`${url}live`);
    expect(answer.headers.get('content-type')).toContain('text/event-stream');
    expect(answer.headers.get('cache-control')).toBe('no-store');
    const reader = answer.body!.pipeThrough(new TextDecoderStream()).getReader();
    let text = '';
    const readUntil = async (words: string) => {
      while (!text.includes(words)) {
        const { value, done } = await reader.read();
        if (done) throw new Error('the stream ended');
        text += value;
      }
    };
    // On a busy computer the first view is a second old by now, and whoever comes is given none so old.
    live.repeat();
    await readUntil('"showing":"waiting"');
    live.show({ showing: 'tilt-down' });
    await readUntil('"showing":"tilt-down"');
    expect(text.startsWith('retry: 1000\n\n')).toBe(true);
    await close();
    open.length = 0;
    await expect(reader.read()).resolves.toMatchObject({ done: true });
  });

  it('answers the loopback name too, but not another name for the same address', async () => {
    const { url } = await start();
    const port = new URL(url).port;
    const statusFor = (host: string) =>
      new Promise<number>((done, fail) => {
        request({ host: '127.0.0.1', port, path: '/feeds', headers: { host } }, (answer) => {
          answer.resume();
          done(answer.statusCode!);
        })
          .on('error', fail)
          .end();
      });
    expect(await statusFor(`localhost:${port}`)).toBe(200);
    expect(await statusFor(`rebound.example:${port}`)).toBe(403);
  });

  it('says plainly that the port is taken, and what to do', async () => {
    const port = Number(new URL((await start()).url).port);
    const failure = await createServer(options(undefined, { port })).catch((error: unknown) => error);
    expect(failure).toBeInstanceOf(PlainError);
    expect((failure as PlainError).code).toBe('page-port-in-use');
    expect((failure as PlainError).text).toContain(String(port));
    expect((failure as PlainError).remedy).toContain(`--page-port ${port + 1}`);
  });
});
