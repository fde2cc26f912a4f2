import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Subject } from 'rxjs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildBoard } from '../../src/server/ward/board-app.ts';
import { createBoardServer } from '../../src/server/ward/board-server.ts';
import type { BoardView } from '../../src/ward/board/board-view.ts';
import { boardCot, boardView } from '../support/board-cots.ts';

const HOST = { host: '127.0.0.1:4620' };

describe('the board’s server', () => {
  let webFolder: string;
  beforeAll(() => {
    webFolder = mkdtempSync(join(tmpdir(), 'ebbline-board-'));
    for (const name of ['index.html', 'board.html'])
      writeFileSync(join(webFolder, name), `<!doctype html><title>${name}</title>`);
  });
  afterAll(() => rmSync(webFolder, { recursive: true }));

  it('serves the board, with a policy that allows its own scripts and the tablet’s camera only', async () => {
    const app = buildBoard({ view$: new Subject<BoardView>(), webFolder }, () => 4620);
    const answer = await app.inject({ url: '/', headers: HOST });
    expect(answer.body).toContain('board.html');
    expect(answer.headers['content-security-policy']).toContain("script-src 'self'");
    expect(answer.headers['permissions-policy']).toBe('camera=(self), microphone=(), geolocation=()');
    expect((await app.inject({ url: '/', headers: { host: 'evil.example' } })).statusCode).toBe(403);
    expect((await app.inject({ url: '/none', headers: HOST })).statusCode).toBe(404);
  });

  it('sends each view as it comes', async () => {
    const view$ = new Subject<BoardView>();
    const server = await createBoardServer({ view$, webFolder, port: 0 });
    const stream = await fetch(`${server.url}board`);
    expect(stream.headers.get('content-type')).toContain('text/event-stream');
    const reader = stream.body!.getReader();
    const said = boardView([boardCot({ need: 'cue', showing: 'burp' })]);
    let text = '';
    const speaking = setInterval(() => view$.next(said), 20);
    while (!text.includes('\n\n', text.indexOf('data: ') + 1) || !text.includes('data: '))
      text += new TextDecoder().decode((await reader.read()).value);
    clearInterval(speaking);
    expect(JSON.parse(text.slice(text.indexOf('data: ') + 6).split('\n')[0]!)).toEqual(said);
    await reader.cancel();
    await server.close();
  });
});
