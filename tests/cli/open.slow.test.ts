/** `ebbline open`: what is kept is served without a sleeve, beside a program that records too. Everything kept here is invented. */
import { beforeAll, describe, expect, it } from 'vitest';
import type { FeedListAnswer } from '../../src/server/answers.ts';
import { openStore } from '../../src/store/open-store.ts';
import { requireBuild, runCommand, startCommand } from '../support/command.ts';
import { keptFeed } from '../support/kept-feeds.ts';
import { storeOf } from '../support/review-store.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

beforeAll(requireBuild);

const asked = async <T>(url: string, path: string): Promise<T> =>
  (await (await fetch(`${url}${path}`)).json()) as T;
const send = (url: string, path: string, body: object): Promise<Response> =>
  fetch(`${url}${path}`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
  });

describe('ebbline open', () => {
  it('serves the kept real feeds, the day, the plan and the milk, says that no sleeve is there, and ends cleanly', async () => {
    const data = temporaryFolder();
    storeOf(data, [keptFeed({ simulated: false })]).close();
    const running = startCommand(['open', '--page-port', '0'], { data });
    const [, found] = await running.says(/Page: +(http:\/\/\S+\/)/);
    const url = found!;
    const { feeds } = await asked<FeedListAnswer>(url, 'feeds');
    expect(feeds.map(({ id }) => id)).toEqual(['feed-1']);
    for (const path of [
      'feeds/feed-1/told',
      'feeds/feed-1/after',
      'day?day=2026-11-24',
      'week?day=2026-11-24',
      'packing',
      'milk',
      'babies',
      'kept',
      'found',
    ])
      expect([path, (await fetch(`${url}${path}`)).status]).toEqual([path, 200]);

    const refused = await send(url, 'live/commands', { kind: 'burped' });
    expect(refused.status).toBe(409);
    expect(await refused.json()).toMatchObject({ error: { code: 'no-sleeve' } });
    const note = await send(url, 'feeds/feed-1/corrections', {
      correction: { kind: 'note', text: 'Sleepy.' },
      by: null,
    });
    expect(note.status).toBe(200);

    running.child.kill('SIGINT');
    const { code, stdout, stderr } = await running.ended;
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    expect(stdout).toContain('no sleeve is attached, and nothing is recorded');
    const store = openStore(data);
    expect(store.get('feed-1')!.corrected!.note).toBe('Sleepy.');
    store.close();
  });

  it('runs beside a program that records into the same folder', async () => {
    const data = temporaryFolder();
    const recording = startCommand(['start', '--page-port', '0'], { data });
    await recording.says(/Page for the caregiver/);
    const beside = startCommand(['open', '--simulated', '--page-port', '0'], { data });
    await beside.says(/what is kept of the simulated sleeve/);
  });

  it('with nothing kept says so, and where simulated feeds are', async () => {
    const running = startCommand(['open', '--page-port', '0'], { data: temporaryFolder() });
    await running.says(/There are none yet\. For those of the simulated sleeve: ebbline open --simulated\./);
  });
});

it('a start without a port says that it simulates, and how to reach the sleeve and the kept feeds', async () => {
  const running = startCommand(['start', '--page-port', '0'], { data: temporaryFolder() });
  await running.says(/No --port was given: Ebbline watches a simulated feed; nothing here is a real baby\./);
  await running.says(
    /A real sleeve: ebbline start --port DEVICE\. Your kept real feeds, without a sleeve: ebbline open\./,
  );
});

it('a feed is written in by fluid ounces as well, and never by both', async () => {
  const data = temporaryFolder();
  const add = ['feeds', 'add', 'bottle', '--day', '2026-01-05', '--at', '08:00', '--offered-fl-oz', '3'];
  expect(await runCommand([...add, '--left-fl-oz', '0.5'], { data })).toMatchObject({ code: 0, stderr: '' });
  const both = await runCommand([...add, '--offered-ml', '90'], { data });
  expect(both.code).toBe(2);
  expect(both.stderr).toContain('cannot be used with');
  const store = openStore(data);
  const [feed] = store.listHandFeeds({});
  store.close();
  // 1 US fl oz is 29.5735295625 mL.
  expect(feed!.offeredMl).toBeCloseTo(88.72, 2);
  expect(feed!.leftMl).toBeCloseTo(14.79, 2);
});
