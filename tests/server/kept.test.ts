/** Routes about stored data: shown, taken away, deleted only with the name typed again and never from another device. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Fastify from 'fastify';
import { describe, expect, it, onTestFinished } from 'vitest';
import type { KeptAnswer } from '../../src/app/kept/kept-answers.ts';
import { keptService } from '../../src/app/kept/kept-service.ts';
import { addKeptRoutes } from '../../src/server/kept.ts';
import { ShareDoor } from '../../src/server/share-door.ts';
import { guardSharing } from '../../src/server/sharing-routes.ts';
import { openStore } from '../../src/store/open-store.ts';
import { importInto } from '../../src/store/portable/import.ts';
import { FakeLive } from '../support/fake-live.ts';
import { fullFolder, NOW_MS } from '../support/full-store.ts';
import { HOST, pageApp, pageFolder } from '../support/page-app.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const webFolder = pageFolder();

function served() {
  const folder = fullFolder(temporaryFolder());
  const store = openStore(folder, { recording: true, nowMs: () => NOW_MS });
  onTestFinished(() => store.close());
  const live = new FakeLive();
  const kept = keptService(store, folder, () => live.command({ kind: 'setup', setup: store.readSetup() }));
  const app = pageApp({ webFolder, live, kept });
  const forget = (payload: object) =>
    app.inject({
      method: 'POST',
      url: '/kept/forget',
      headers: { 'content-type': 'application/json', ...HOST },
      payload: JSON.stringify(payload),
    });
  return { app, folder, store, forget, live };
}

describe('what is kept', () => {
  it('is told by baby, and stored by no browser', async () => {
    const { app, folder, store } = served();
    const { id } = store.listBabies()[0]!;
    const reply = await app.inject({ url: '/kept', headers: HOST });
    expect(reply.headers['cache-control']).toBe('no-store');
    expect(reply.json<KeptAnswer>()).toEqual({
      folder,
      babies: [
        { id: null, name: 'Linnet', feeds: 1, handFeeds: 1 },
        { id, name: 'Wren', feeds: 3, handFeeds: 1 },
      ],
    });
  });

  it('comes as one file that can be imported', async () => {
    const { app } = served();
    const reply = await app.inject({ url: '/kept/ebbline.jsonl', headers: HOST });
    expect(reply.headers['content-disposition']).toBe('attachment; filename="ebbline.jsonl"');
    const file = join(temporaryFolder(), 'ebbline.jsonl');
    writeFileSync(file, reply.body);
    expect(importInto(join(temporaryFolder(), 'new'), file, Date.now())).toMatchObject({
      feeds: 4,
      handFeeds: 2,
      milkEvents: 4,
    });
  });
});

describe('a baby', () => {
  it('is deleted when its name was typed again', async () => {
    const { forget, store, live } = served();
    const reply = await forget({ baby: 'Wren', again: ' wren ' });
    expect(reply.statusCode).toBe(200);
    expect(reply.json()).toMatchObject({
      feeds: 3,
      handFeeds: 1,
      mentions: 0,
      unreachable: [],
      kept: { babies: [{ id: null, name: 'Linnet', feeds: 1, handFeeds: 1 }] },
    });
    expect(store.list({ discarded: true }).map(({ id }) => id)).toEqual(['b']);
    // The live feed holds the last answers too, so it is told to forget the name.
    expect(live.commands).toMatchObject([{ kind: 'setup', setup: { babyName: null, portionMl: 95 } }]);
  });

  it.each([
    [{ baby: 'Wren', again: 'Linnet' }, 'forget-unsure', 'again'],
    [{ baby: 'Wren', again: '' }, 'forget-unsure', 'again'],
    [{ baby: 'Wren' }, 'forget-unsure', 'again'],
    [{}, 'forget-unsure', 'again'],
    [{ baby: 'Robin', again: 'Robin' }, 'forget-nobody', undefined],
  ])('is not on %j', async (payload, code, field) => {
    const { forget, store } = served();
    const reply = await forget(payload);
    expect(reply.statusCode).toBe(422);
    expect(reply.json().error).toMatchObject({ code, ...(field && { field }) });
    expect(store.list({ discarded: true })).toHaveLength(4);
  });

  it('is never deleted by a device that the page is shared with', async () => {
    const door = new ShareDoor({ network: { address: '127.0.0.1', netmask: '255.0.0.0' } });
    onTestFinished(() => door.close());
    const app = Fastify();
    guardSharing(app, door);
    const asked: string[] = [];
    addKeptRoutes(app, {
      kept: () => ({ folder: '/', babies: [] }),
      forget: (baby) => {
        asked.push(baby);
        throw new Error('asked');
      },
      exportLines: () => [],
    });
    const address = await app.listen({ host: '127.0.0.1', port: 0 });
    onTestFinished(() => app.close());
    const code = door.invite('owner').split('#')[1]!;
    const cookie = door.admit(code)!.split(';')[0]!;
    const ask = (path: string, init: RequestInit = {}) =>
      fetch(`${address}${path}`, { ...init, headers: { cookie, 'content-type': 'application/json' } });
    expect((await ask('/kept')).status).toBe(200);
    for (const path of ['/kept/forget', '/kept/%66orget']) {
      const reply = await ask(path, {
        method: 'POST',
        body: JSON.stringify({ baby: 'Wren', again: 'Wren' }),
      });
      expect(reply.status).toBe(403);
    }
    expect(asked).toEqual([]);
  });
});
