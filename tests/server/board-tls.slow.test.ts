/** A board that speaks TLS itself, with certificates made by OpenSSL. */
import { execFileSync } from 'node:child_process';
import { copyFileSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { request } from 'node:https';
import { join } from 'node:path';
import { connect } from 'node:tls';
import { Subject } from 'rxjs';
import { describe, expect, it, onTestFinished } from 'vitest';
import { createBoardServer } from '../../src/server/ward/board-server.ts';
import { endIsNear, readCertificate } from '../../src/server/ward/own-certificate.ts';
import type { BoardView } from '../../src/ward/board/board-view.ts';
import { makeCertificates, noBroker } from '../support/broker.ts';
import { freePort } from '../support/free-port.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const DAY_MS = 24 * 3600_000;
const HERE = 'https://localhost';

/** Two folders with a certificate for localhost each. */
function certificates() {
  const folder = temporaryFolder();
  const [first, second] = ['first', 'second'].map((name) => {
    const own = join(folder, name);
    mkdirSync(own);
    const { ca, cert, key } = makeCertificates(own, 1);
    return { ca, certificate: cert, key };
  });
  return { folder, first: first!, second: second! };
}

function webFolder(): string {
  const folder = temporaryFolder();
  for (const name of ['index.html', 'board.html']) writeFileSync(join(folder, name), '<!doctype html>board');
  return folder;
}

describe.skipIf(noBroker !== null)(`a board with a certificate of its own ${noBroker ?? ''}`, () => {
  it('is read by whoever trusts its authority, under its name, and by nobody else; a renewed one is taken while it runs', async () => {
    const { first, second } = certificates();
    const port = await freePort();
    const address = `${HERE}:${port}`;
    const said: string[] = [];
    const tls = {
      read: () => readCertificate(first, address, Date.now()),
      nowMs: Date.now,
      say: (text: string) => said.push(text),
    };
    const server = await createBoardServer({
      view$: new Subject<BoardView>(),
      webFolder: webFolder(),
      port,
      address,
      tls,
    });
    onTestFinished(() => server.close());
    const get = (ca: string, headers: Record<string, string> = {}) =>
      new Promise<{ status: number; text: string }>((resolve, reject) => {
        const asked = request(
          {
            host: 'localhost',
            servername: 'localhost',
            port,
            path: '/',
            ca: readFileSync(ca),
            agent: false,
            headers,
          },
          (answer) => {
            let text = '';
            answer.setEncoding('utf8').on('data', (more: string) => {
              text += more;
            });
            answer.on('end', () => resolve({ status: answer.statusCode!, text }));
          },
        );
        asked.on('error', reject).end();
      });
    expect(await get(first.ca)).toMatchObject({ status: 200, text: expect.stringContaining('board') });
    expect((await get(first.ca, { host: 'evil.example' })).status).toBe(403);
    expect((await get(first.ca, { origin: 'https://evil.example' })).status).toBe(403);
    await expect(get(second.ca)).rejects.toThrow(/certificate|signature/);
    await expect(fetch(`http://localhost:${port}/`)).rejects.toThrow();
    // A certificate that ends tomorrow is reported at once.
    expect(said).toEqual([expect.stringMatching(/ends within a day/)]);
    expect(server.certificate()?.trouble).toBe(said[0]);
  });

  it('takes a renewed one while it runs, and stays with the one before where that cannot be used', async () => {
    const { first, second } = certificates();
    const { OwnTls } = await import('../../src/server/ward/board-server.ts');
    const said: string[] = [];
    const own = new OwnTls({
      read: () => readCertificate(first, HERE, Date.now()),
      nowMs: () => Date.now() - 300 * DAY_MS,
      say: (text) => said.push(text),
    });
    const server = own.serverFor((_request, response) => void response.end());
    await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
    onTestFinished(() => void server.close());
    const { port } = server.address() as { port: number };
    const shown = () =>
      new Promise<string>((resolve, reject) => {
        const socket = connect({ port, host: 'localhost', rejectUnauthorized: false }, () => {
          resolve(socket.getPeerCertificate().fingerprint256);
          socket.destroy();
        });
        socket.on('error', reject);
      });
    const before = await shown();
    copyFileSync(second.certificate, first.certificate);
    own.look();
    expect(said.at(-1)).toMatch(/does not belong to the certificate/);
    expect(own.trouble).toBe(said.at(-1));
    expect(await shown()).toBe(before);
    copyFileSync(second.key, first.key);
    own.look();
    expect(own.trouble).toBeNull();
    expect(await shown()).not.toBe(before);
  });

  it.each<[string, (files: ReturnType<typeof certificates>) => [string, string, string, number], RegExp]>([
    [
      'is not there',
      ({ folder, first }) => [join(folder, 'none'), first.key, HERE, 0],
      /certificate cannot be read from .*none/,
    ],
    [
      'has no key',
      ({ folder, first }) => [first.certificate, join(folder, 'none'), HERE, 0],
      /key cannot be read from .*none/,
    ],
    ['is none', ({ first }) => [first.key, first.key, HERE, 0], /holds no certificate/],
    ['has a certificate for a key', ({ first }) => [first.certificate, first.ca, HERE, 0], /holds no key/],
    [
      'has another key',
      ({ first, second }) => [first.certificate, second.key, HERE, 0],
      /does not belong to the certificate/,
    ],
    [
      'is for another name',
      ({ first }) => [first.certificate, first.key, 'https://board.example', 0],
      /is not for board\.example, but for DNS:localhost/,
    ],
    ['has expired', ({ first }) => [first.certificate, first.key, HERE, 2 * DAY_MS], /has expired on .*GMT/],
    [
      'is not valid yet',
      ({ first }) => [first.certificate, first.key, HERE, -2 * DAY_MS],
      /is not valid before .*GMT/,
    ],
  ])('that %s is said so', (_what, given, said) => {
    const [certificate, key, address, laterMs] = given(certificates());
    expect(() => readCertificate({ certificate, key }, address, Date.now() + laterMs)).toThrow(said);
  });

  it('whose key is locked is said so', () => {
    const { folder, first } = certificates();
    const locked = join(folder, 'locked.key');
    execFileSync(
      'openssl',
      ['ec', '-in', first.key, '-aes256', '-passout', 'pass:invented', '-out', locked],
      {
        stdio: 'pipe',
      },
    );
    const files = { certificate: first.certificate, key: locked };
    expect(() => readCertificate(files, HERE, Date.now())).toThrow(
      /no key that can be used without a password/,
    );
  });
});

describe('the end of a certificate', () => {
  it('is said from three weeks before', () => {
    expect(endIsNear({ untilMs: 21 * DAY_MS + 1 }, 0)).toBeNull();
    expect(endIsNear({ untilMs: 21 * DAY_MS }, 0)).toMatch(/ends in 21 days/);
    expect(endIsNear({ untilMs: 1.5 * DAY_MS }, 0)).toMatch(/ends in one day\./);
    expect(endIsNear({ untilMs: 0 }, 0)).toMatch(/has expired/);
  });
});
