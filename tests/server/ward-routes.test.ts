/** Who gets which answer from the board's server. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Subject } from 'rxjs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { wardStudies } from '../../src/app/ward/ward-studies.ts';
import { buildBoard } from '../../src/server/ward/board-app.ts';
import type { People } from '../../src/server/ward/people.ts';
import type { BoardView } from '../../src/ward/board/board-view.ts';
import { actsOf, childrenOf, inResearch, type Role, roleFor, rolesOf } from '../../src/ward/people/roles.ts';
import { CODES, NOON, wardHouse } from '../support/ward-house.ts';

const HOST = { host: '127.0.0.1:4620' };

describe('the answers of a house with many', () => {
  let webFolder: string;
  beforeAll(() => {
    webFolder = mkdtempSync(join(tmpdir(), 'ebbline-ward-'));
    for (const name of ['index.html', 'board.html']) writeFileSync(join(webFolder, name), '<!doctype html>');
  });
  afterAll(() => rmSync(webFolder, { recursive: true }));

  function appFor(roles: Role[] | null) {
    const house = wardHouse();
    const people: People = {
      personOf: () => roles && { id: 'p-1', name: 'Rosa', roles },
      roleFor,
      actsOf,
    };
    const app = buildBoard(
      {
        view$: new Subject<BoardView>(),
        webFolder,
        ward: house.service,
        studies: wardStudies(house.store, () => NOON),
        people,
        nowMs: () => NOON,
      },
      () => 4620,
    );
    const get = async (url: string) => (await app.inject({ url, headers: HOST })).statusCode;
    const post = (url: string, body: object) =>
      app.inject({
        method: 'POST',
        url,
        headers: { ...HOST, 'content-type': 'application/json' },
        payload: JSON.stringify(body),
      });
    return { house, app, get, post };
  }

  const READING = ['/children', '/handover', '/handover.pdf', '/trail', '/own', '/studies'];
  it.each<[string, Role[] | null, number[]]>([
    ['nobody', null, [401, 401, 401, 401, 401, 401]],
    ['hold', ['hold'], [200, 200, 200, 403, 403, 403]],
    ['lead', ['lead'], [200, 200, 200, 200, 403, 403]],
    ['parent', ['parent'], [403, 403, 403, 403, 200, 403]],
    ['researcher', ['researcher'], [403, 403, 403, 403, 403, 200]],
  ])('%s', async (_name, roles, statuses) => {
    const { get, post, house } = appFor(roles);
    const found: number[] = [];
    for (const url of READING) found.push(await get(url));
    expect(found).toEqual(statuses);
    const bound = await post('/bind', { codes: [CODES.first] });
    expect(bound.statusCode).toBe(
      roles === null ? 401 : roles.includes('hold') || roles.includes('lead') ? 200 : 403,
    );
    // A refused look shows nothing and is not recorded; one that was allowed is in the audit trail.
    const looks = house.trail().filter(({ act }) => act.startsWith('looked'));
    expect(looks.length > 0).toBe([...statuses.slice(0, 4), statuses[5]].includes(200));
  });

  it('binds and stops through the page’s own request, and says plainly what is no request', async () => {
    const { post } = appFor(['hold']);
    await post('/fill', { bottle: CODES.bottle, child: CODES.first, ml: 90, from: null, kind: 'formula' });
    expect((await post('/bind', { codes: [CODES.second, CODES.bottle] })).json()).toMatchObject({
      stop: 'wrong-child',
    });
    expect((await post('/bind', { codes: [CODES.first, CODES.bottle, CODES.sleeve] })).json()).toMatchObject({
      state: 'bound',
      cot: 'A1',
    });
    expect((await post('/bind', { codes: 'x' })).statusCode).toBe(422);
    expect((await post('/fill', { ml: 1 })).json()).toMatchObject({ error: { code: 'fill-labels' } });
    expect((await post('/release', { code: 'x' })).json()).toMatchObject({
      error: { code: 'not-a-sleeve-label' },
    });
  });

  it('answers at the address that people use, and to no page of somebody else there', async () => {
    const house = wardHouse();
    const app = buildBoard(
      { view$: new Subject<BoardView>(), webFolder, ward: house.service, address: 'https://board.example' },
      () => 4620,
    );
    const status = async (headers: object) =>
      (await app.inject({ url: '/children', headers: { host: 'board.example', ...headers } })).statusCode;
    expect(await status({})).toBe(200);
    expect(await status({ origin: 'https://board.example' })).toBe(200);
    expect(await status({ origin: 'https://evil.example' })).toBe(403);
    expect(await status({ 'sec-fetch-site': 'cross-site' })).toBe(403);
    expect(await status({ host: 'evil.example' })).toBe(403);
  });
});

describe('roles', () => {
  it('are read from what a provider claims, and nothing else is a right', () => {
    expect(rolesOf(['lead', 'admin', 'LEAD'])).toEqual(['lead']);
    expect(rolesOf('hold, ebbline-parent')).toEqual(['hold', 'parent']);
    for (const claim of [undefined, null, 7, {}, ['root']]) expect(rolesOf(claim)).toEqual([]);
  });

  it('a consent holds from its begin up to its end, for that person and that child alone', () => {
    const allowed = [
      { babyId: 'a', what: 'parent', person: 'm', fromMs: 10, untilMs: 20 },
      { babyId: 'b', what: 'parent', person: 'x', fromMs: 0, untilMs: null },
      { babyId: 'c', what: 'research', person: null, fromMs: 0, untilMs: 15 },
    ] as const;
    expect([9, 10, 19, 20].map((now) => childrenOf({ id: 'm' }, allowed, now))).toEqual([
      [],
      ['a'],
      ['a'],
      [],
    ]);
    expect([14, 15].map((now) => inResearch(allowed, now))).toEqual([['c'], []]);
  });
});
