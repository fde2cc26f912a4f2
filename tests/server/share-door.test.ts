/**
 * The shared page over real sockets. 127.0.0.2 stands for the address in the home network: it is another address of this
 * machine that the server must treat as the network's, whoever asks.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { type IncomingMessage, type RequestOptions, request } from 'node:http';
import { createServer as createTcpServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import type { Right } from '../../src/server/rights.ts';
import { createServer, type PageServer } from '../../src/server/server.ts';
import { COOKIE, ShareDoor } from '../../src/server/share-door.ts';
import { CODE_LIFE_MS, STRANGER_REQUESTS_MAX } from '../../src/server/sharing.ts';
import { FakeLive, viewOf } from '../support/fake-live.ts';
import { feedReader, plainGraph } from '../support/kept-feeds.ts';

const NETWORK = { address: '127.0.0.2', netmask: '255.0.0.0' };
const hasSecondAddress = await new Promise<boolean>((done) => {
  const probe = createTcpServer();
  probe.once('error', () => done(false));
  probe.listen(0, NETWORK.address, () => probe.close(() => done(true)));
});
const reason = hasSecondAddress ? '' : ` (skipped: this machine cannot listen on ${NETWORK.address})`;

/** Routes that are closed to a device that was not let in: all that tell of a feed or change something. */
const CLOSED: [string, string][] = [
  ['GET', '/live'],
  ['POST', '/live/commands'],
  ['GET', '/feeds'],
  ['GET', '/found'],
  ['GET', '/feeds/feed-1/told'],
  ['GET', '/feeds/feed-1/values'],
  ['GET', '/feeds/feed-1/file.html'],
  ['POST', '/feeds/feed-1/corrections'],
  ['GET', '/day'],
  ['GET', '/week'],
  ['POST', '/hand-feeds'],
  ['GET', '/feeds/feed-1/graph.svg'],
  ['GET', '/feeds/feed-1/graph.png'],
  ['GET', '/index.html'],
  ['GET', '/page.js'],
  ['GET', '/sharing'],
  ['POST', '/sharing'],
  ['GET', '/nowhere'],
  ['GET', '/join/../feeds'],
  ['GET', '/join.js/../feeds'],
  ['GET', '//feeds'],
  ['GET', '/%66eeds'],
  ['GET', '/join%2f..%2ffeeds'],
  ['GET', '/join?x=/feeds/..'],
  ['HEAD', '/feeds'],
  ['OPTIONS', '/feeds'],
];

interface Answer {
  status: number;
  headers: IncomingMessage['headers'];
  body: string;
}

describe.skipIf(!hasSecondAddress)(`the shared page${reason}`, () => {
  let webFolder: string;
  let server: PageServer;
  let door: ShareDoor;
  let live: FakeLive;
  let nowMs = 0;
  const news: string[] = [];
  beforeAll(() => {
    webFolder = mkdtempSync(join(tmpdir(), 'ebbline-web-'));
    for (const name of ['index.html', 'join.html', 'join.js', 'page.js', 'page.css', 'mark.svg']) {
      writeFileSync(join(webFolder, name), name);
    }
  });
  afterAll(() => rmSync(webFolder, { recursive: true }));
  const start = async (network = NETWORK) => {
    nowMs = 0;
    news.length = 0;
    live = new FakeLive(viewOf({ showing: 'tilt-down' }));
    door = new ShareDoor({ network, nowMs: () => nowMs, onNews: (line) => news.push(line) });
    server = await createServer({
      live,
      feeds: feedReader(),
      graph: plainGraph,
      png: () => new Uint8Array([137]),
      webFolder,
      port: 0,
      door,
    });
  };
  afterEach(() => server.close());

  const hostName = () => `${NETWORK.address}:${door.port}`;
  const ask = (options: RequestOptions & { body?: unknown } = {}): Promise<Answer> =>
    new Promise((done, fail) => {
      const { body, headers, ...rest } = options;
      const asked = request(
        {
          host: NETWORK.address,
          port: door.port,
          agent: false,
          ...rest,
          headers: { ...(body ? { 'content-type': 'application/json' } : {}), ...headers },
        },
        (answer) => {
          let text = '';
          answer.setEncoding('utf8').on('data', (part: string) => {
            text += part;
          });
          answer.on('error', fail);
          answer.on('end', () => done({ status: answer.statusCode!, headers: answer.headers, body: text }));
        },
      );
      asked.setTimeout(120_000, () => fail(new Error(`no answer: ${JSON.stringify(options)}`)));
      asked.on('error', fail);
      asked.end(body ? JSON.stringify(body) : undefined);
    });
  const handIn = (code: string, headers = {}) =>
    ask({ method: 'POST', path: '/join', body: { code }, headers });
  const codeIn = (address: string) => address.split('#')[1]!;
  const letIn = async (right: Right = 'owner'): Promise<{ cookie: string }> => {
    const answer = await handIn(codeIn(door.invite(right)));
    expect(answer.status).toBe(204);
    return { cookie: String(answer.headers['set-cookie']).split(';')[0]! };
  };

  const refusedEverywhere = async (headers: Record<string, string>, statuses: number[]) => {
    for (const [method, path] of CLOSED) {
      const body = method === 'POST' ? { kind: 'burped', do: 'withdraw' } : undefined;
      const answer = await ask({ method, path, headers, body });
      const open = path.startsWith('/join?');
      expect([method, path, open || statuses.includes(answer.status)]).toEqual([method, path, true]);
      // No answer contains the feed, the setup or the graph.
      expect(answer.body).not.toMatch(/feed-1|tilt-down|Juno|<svg|showing/);
      expect(answer.headers['set-cookie']).toBeUndefined();
    }
    expect(live.commands).toEqual([]);
  };

  it('shows those who were not let in nothing but where to hand in a code', async () => {
    await start();
    door.invite();
    await refusedEverywhere({}, [401]);
    expect((await ask({ path: '/' })).headers.location).toBe('/join');
    expect((await ask({ path: '/join' })).body).toBe('join.html');
    expect(live.view$.observed).toBe(true);
  });

  it('takes the code once, and gives a secret that scripts and other sites do not get', async () => {
    await start();
    const code = codeIn(door.invite());
    expect(Buffer.from(code, 'base64url')).toHaveLength(16);
    const answer = await handIn(code);
    const [pair, ...attributes] = String(answer.headers['set-cookie']).split('; ');
    expect(Buffer.from(pair!.slice(COOKIE.length + 1), 'base64url').length).toBeGreaterThanOrEqual(16);
    expect(attributes).toEqual(expect.arrayContaining(['HttpOnly', 'SameSite=Strict', 'Path=/']));
    expect(answer.body).toBe('');
    const again = await handIn(code);
    expect(again.status).toBe(403);
    expect(again.headers['set-cookie']).toBeUndefined();
    expect(news).toEqual(['Device 1 was let in; its code is used up.']);
  });

  it('lets a device that was let in see and do what the page can', async () => {
    await start();
    const headers = await letIn();
    expect((await ask({ path: '/', headers })).body).toBe('index.html');
    expect((await ask({ path: '/feeds', headers })).body).toContain('feed-1');
    const origin = `http://${hostName()}`;
    const done = await ask({
      method: 'POST',
      path: '/live/commands',
      headers: { ...headers, origin },
      body: { kind: 'burped' },
    });
    expect(done.status).toBe(204);
    expect(live.commands).toEqual([{ kind: 'burped' }]);
  });

  it('lets it neither make codes nor see them', async () => {
    await start();
    const headers = await letIn();
    door.invite();
    for (const path of ['/sharing', '/%73haring']) {
      const seen = await ask({ path, headers });
      expect([path, seen.status]).toEqual([path, 403]);
      expect(seen.body).not.toContain('join#');
    }
    const order = await ask({ method: 'POST', path: '/sharing', headers, body: { do: 'invite' } });
    expect(order.status).toBe(403);
  });

  it.each<[Right, unknown, number]>([
    ['owner', { kind: 'end-feed' }, 204],
    ['help', { kind: 'burped' }, 204],
    ['help', { kind: 'guidance-off', on: true }, 204],
    ['help', { kind: 'end-feed' }, 403],
    ['help', { kind: 'discard-feed' }, 403],
    ['help', { kind: 'setup', setup: {} }, 403],
    ['help', {}, 403],
    ['watch', { kind: 'burped' }, 403],
    ['watch', { kind: 'mute', on: true }, 403],
  ])('hears of a device that may %s the order %j: %i', async (right, body, status) => {
    await start();
    const headers = await letIn(right);
    const path = '/live/commands';
    expect((await ask({ method: 'POST', path, headers, body })).status).toBe(status);
    expect(live.commands.length).toBe(status === 204 ? 1 : 0);
    expect(JSON.parse((await ask({ path: '/right', headers })).body)).toEqual({ right });
    expect((await ask({ path: '/feeds', headers })).status).toBe(200);
  });

  it.each([
    ['a secret of its own making', `${COOKIE}=AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA`],
    ['an empty secret', `${COOKIE}=`],
    ['another name', 'device=1'],
    ['a broken header', `=;;${COOKIE};=${COOKIE}`],
  ])('refuses %s', async (_what, cookie) => {
    await start();
    await letIn();
    await refusedEverywhere({ cookie }, [401]);
  });

  it('refuses another name for the same address, as a rebound name would send it, even with the secret', async () => {
    await start();
    const headers = await letIn();
    for (const host of [
      'rebound.example',
      `rebound.example:${door.port}`,
      `localhost:${door.port}`,
      '127.0.0.2',
    ]) {
      await refusedEverywhere({ ...headers, host }, [400, 403]);
    }
  });

  it('refuses the page of another origin, even with the secret', async () => {
    await start();
    const headers = await letIn();
    for (const origin of ['http://ebbline.example', `https://${hostName()}`, `http://127.0.0.2:81`, 'null']) {
      await refusedEverywhere({ ...headers, origin }, [403]);
      expect((await handIn(codeIn(door.invite()), { origin })).status).toBe(403);
    }
  });

  it('hears nobody from another network, even with the secret', async () => {
    await start();
    const headers = await letIn();
    await server.close();
    await start({ ...NETWORK, netmask: '255.255.255.255' });
    for (const [method, path] of [...CLOSED, ['GET', '/join'], ['GET', '/']] as const) {
      const answer = await ask({ method, path, headers, localAddress: '127.0.0.3' });
      expect([path, answer.status]).toEqual([path, 403]);
    }
  });

  it('never opens a WebSocket', async () => {
    await start();
    const upgrade = { connection: 'Upgrade', upgrade: 'websocket', 'sec-websocket-version': '13' };
    const key = { 'sec-websocket-key': Buffer.alloc(16).toString('base64') };
    expect((await ask({ path: '/live', headers: { ...upgrade, ...key } })).status).toBe(401);
  });

  it('cuts a running stream the moment its device is put out, and leaves the others', async () => {
    await start();
    const [one, two] = [await letIn(), await letIn()];
    const listen = (headers: { cookie: string }) =>
      new Promise<{ answer: IncomingMessage; heard: Promise<string>; cut: Promise<void> }>((done, fail) => {
        request(
          { host: NETWORK.address, port: door.port, path: '/live', headers, agent: false },
          (answer) => {
            const heard = new Promise<string>((first) =>
              answer.setEncoding('utf8').on('data', (text: string) => text.includes('data:') && first(text)),
            );
            const cut = new Promise<void>((over) => answer.once('close', () => over()));
            answer.on('error', () => {});
            done({ answer, heard, cut });
          },
        )
          .on('error', fail)
          .end();
      });
    const first = await listen(one);
    const second = await listen(two);
    // On a busy computer the first view is a second old by now, and whoever comes is given none so old.
    live.repeat();
    expect(await first.heard).toContain('tilt-down');
    expect(await second.heard).toContain('tilt-down');
    door.withdraw(1);
    await first.cut;
    expect((await ask({ path: '/feeds', headers: one })).status).toBe(401);
    expect((await ask({ path: '/feeds', headers: two })).status).toBe(200);
    expect(second.answer.destroyed).toBe(false);
    door.withdraw();
    await second.cut;
    expect((await ask({ path: '/feeds', headers: two })).status).toBe(401);
  });

  it('withdraws a code that is guessed at, and stops listening to a crowd', async () => {
    await start();
    const code = codeIn(door.invite());
    for (let tries = 0; tries < 5; tries++) expect((await handIn(`guess-${tries}`)).status).toBe(403);
    expect((await handIn(code)).status).toBe(403);
    expect(news).toEqual(['Wrong codes were tried; the code was withdrawn.']);
    const { cookie } = await letIn();
    for (const address of ['127.0.0.1', '127.0.0.2']) while (door.hearsStranger(address));
    expect((await ask({ path: '/join' })).status).toBe(429);
    expect((await ask({ path: '/feeds', headers: { cookie } })).status).toBe(200);
    nowMs += 60_000;
    expect((await ask({ path: '/join' })).status).toBe(200);
    expect(STRANGER_REQUESTS_MAX).toBeLessThan(1000);
  });

  it('forgets a code after some minutes', async () => {
    await start();
    const code = codeIn(door.invite());
    nowMs += CODE_LIFE_MS;
    expect(door.invitation).toBeNull();
    expect((await handIn(code)).status).toBe(403);
  });

  it('is given and taken by this machine’s own page, which needs no secret', async () => {
    await start();
    const local = { host: '127.0.0.1' };
    const made = await ask({ ...local, method: 'POST', path: '/sharing', body: { do: 'invite' } });
    const { invitation } = JSON.parse(made.body) as { invitation: { address: string } };
    expect(invitation.address).toMatch(new RegExp(`^http://127\\.0\\.0\\.2:${door.port}/join#[\\w-]{22}$`));
    expect((await handIn(codeIn(invitation.address))).status).toBe(204);
    const seen = JSON.parse((await ask({ ...local, path: '/sharing' })).body);
    expect(seen).toEqual({
      on: true,
      invitation: null,
      devices: [{ number: 1, sinceSec: 0, right: 'help' }],
    });
    const bad = await ask({
      ...local,
      method: 'POST',
      path: '/sharing',
      body: { do: 'withdraw', device: 'all' },
    });
    expect(bad.status).toBe(400);
    expect(door.devices).toHaveLength(1);
    await ask({ ...local, method: 'POST', path: '/sharing', body: { do: 'withdraw' } });
    expect(door.devices).toEqual([]);
    const foreign = {
      ...local,
      method: 'POST',
      path: '/sharing',
      headers: { origin: 'http://ebbline.example' },
    };
    expect((await ask({ ...foreign, body: { do: 'invite' } })).status).toBe(403);
  });
});

describe('without sharing', () => {
  it('says so, and there is no place to hand in a code', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'ebbline-web-'));
    writeFileSync(join(folder, 'index.html'), '');
    const options = { live: new FakeLive(), feeds: feedReader(), graph: plainGraph, webFolder: folder };
    const server = await createServer({ ...options, port: 0 });
    expect(await (await fetch(`${server.url}sharing`)).json()).toEqual({ on: false });
    expect((await fetch(`${server.url}join`)).status).toBe(404);
    expect(server.url).toContain('127.0.0.1');
    if (hasSecondAddress) {
      const elsewhere = server.url.replace('127.0.0.1', NETWORK.address);
      await expect(fetch(`${elsewhere}feeds`)).rejects.toThrow();
    }
    await server.close();
    rmSync(folder, { recursive: true });
  });
});
