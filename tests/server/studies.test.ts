/** Routes of studies: lists and graphs; no browser stores them, and only the owner's device gets them. */
import { expect, it } from 'vitest';
import { studyService } from '../../src/app/study/page/study-service.ts';
import { HOST, pageApp, pageFolder } from '../support/page-app.ts';
import { studyHere } from '../support/study.ts';

const webFolder = pageFolder();

it('studies are listed, told and drawn; one that is not there is 404 with a way on', async () => {
  const { studies } = studyHere({}, 10);
  const app = pageApp({ webFolder, studies: studyService(studies) });
  const get = (url: string) => app.inject({ url, headers: HOST });
  const list = await get('/studies');
  expect(list.json()).toMatchObject({ studies: [{ code: 'pace-1' }], setAside: [] });
  expect(list.headers['cache-control']).toBe('no-store');
  expect((await get('/studies/pace-1')).json()).toMatchObject({ code: 'pace-1', list: [] });
  for (const [asked, width] of [
    ['', 720],
    ['?width=5', 280],
    ['?width=99999', 1600],
    ['?width=wide', 720],
  ] as const) {
    const drawn = await get(`/studies/pace-1/curves.svg${asked}`);
    expect(drawn.headers['content-type']).toBe('image/svg+xml; charset=utf-8');
    expect(drawn.headers['content-security-policy']).toContain('sandbox');
    expect(drawn.body).toContain(`width="${width}"`);
  }
  expect((await get('/studies/pace-1/curves.svg?language=es')).body).toContain('Leche tomada');
  expect((await get('/studies/pace-1/curves.svg?language=xx')).body).toContain('Milk taken');
  for (const url of ['/studies/none', '/studies/none/curves.svg', '/studies/..%2f..%2fdata']) {
    const reply = await get(url);
    expect([url, reply.statusCode, reply.json().error.code]).toEqual([url, 404, 'study-unknown']);
  }
});
