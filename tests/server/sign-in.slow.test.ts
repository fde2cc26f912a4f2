/** Signing in, against a published provider (oidc-provider) on loopback: what it claims is what counts. */
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import Fastify from 'fastify';
import Provider from 'oidc-provider';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { PlainError } from '../../src/base/errors.ts';
import { addErrorAnswers } from '../../src/server/bare-app.ts';
import { allowed } from '../../src/server/ward/people.ts';
import { createSignIn, type SignIn } from '../../src/server/ward/sign-in.ts';
import { actsOf, roleFor, rolesOf } from '../../src/ward/people/roles.ts';

const ACCOUNTS: Record<string, string[]> = { rosa: ['hold'], lena: ['lead', 'parent'], otto: [] };
const SECRET = 'a-secret-for-this-test-alone';

/** Follows redirects as a browser does, with a jar of cookies for each host. */
class Visitor {
  readonly #jars = new Map<string, Map<string, string>>();

  async go(
    url: string,
    form?: Record<string, string>,
  ): Promise<{ url: string; status: number; text: string }> {
    let next: { url: string; form: Record<string, string> | undefined } = { url, form };
    for (let hops = 0; hops < 12; hops++) {
      const { host } = new URL(next.url);
      const jar = this.#jars.get(host) ?? new Map<string, string>();
      this.#jars.set(host, jar);
      const answer = await fetch(next.url, {
        redirect: 'manual',
        headers: { cookie: [...jar].map(([name, value]) => `${name}=${value}`).join('; ') },
        ...(next.form && { method: 'POST', body: new URLSearchParams(next.form) }),
      });
      for (const line of answer.headers.getSetCookie()) {
        const [, name, value] = /^([^=]+)=([^;]*)/.exec(line)!;
        if (value === '') jar.delete(name!);
        else jar.set(name!, value!);
      }
      const location = answer.headers.get('location');
      if (!location) return { url: next.url, status: answer.status, text: await answer.text() };
      next = { url: new URL(location, next.url).href, form: undefined };
    }
    throw new Error('a circle of redirects');
  }

  /** The provider's own two pages: a name and any password, then yes. */
  async signIn(board: string, name: string): Promise<{ url: string; status: number; text: string }> {
    let page = await this.go(`${board}/sign-in`);
    for (let step = 0; step < 3 && /\/interaction\//.test(page.url); step++) {
      const [, action] = /<form[^>]*action="([^"]+)"/.exec(page.text)!;
      const [, prompt] = /name="prompt" value="(\w+)"/.exec(page.text)!;
      page = await this.go(new URL(action!, page.url).href, {
        prompt: prompt!,
        ...(prompt === 'login' && { login: name, password: 'any' }),
      });
    }
    return page;
  }
}

describe('signing in by OpenID Connect', () => {
  let provider: Server;
  let board: string;
  let signIn: SignIn;
  let nowMs = 0;
  const app = Fastify({ forceCloseConnections: true });
  const seen: string[] = [];

  beforeAll(async () => {
    // The board's address is known before the provider is told of it.
    app.get('/', async (request) => signIn.personOf(request));
    app.get('/trail', async (request, reply) => allowed(signIn, 'trail', request, reply) ?? reply);
    const reserved = createServer().listen(0, '127.0.0.1');
    await new Promise((done) => reserved.once('listening', done));
    const { port } = reserved.address() as AddressInfo;
    await new Promise((done) => reserved.close(done));
    board = `http://127.0.0.1:${port}`;
    provider = createServer();
    await new Promise<void>((done) => provider.listen(0, '127.0.0.1', done));
    const issuer = `http://127.0.0.1:${(provider.address() as AddressInfo).port}`;
    const oidc = new Provider(issuer, {
      clients: [{ client_id: 'ebbline', client_secret: SECRET, redirect_uris: [`${board}/signed-in`] }],
      claims: { openid: ['sub', 'name', 'ebbline_roles'] },
      conformIdTokenClaims: false,
      cookies: { keys: ['a-key-for-this-test'] },
      findAccount: (_context: unknown, id: string) => ({
        accountId: id,
        claims: () => ({ sub: id, name: `Name of ${id}`, ebbline_roles: ACCOUNTS[id] }),
      }),
    });
    provider.on('request', oidc.callback());
    signIn = await createSignIn({
      issuer,
      clientId: 'ebbline',
      clientSecret: SECRET,
      address: board,
      rolesClaim: 'ebbline_roles',
      rolesOf,
      rules: { roleFor, actsOf },
      nowMs: () => nowMs,
      onSignedIn: ({ id }) => seen.push(id),
    });
    addErrorAnswers(app, {});
    signIn.addRoutes(app);
    await app.listen({ host: '127.0.0.1', port });
  });
  afterAll(async () => {
    await app.close();
    provider.closeAllConnections();
    await new Promise((done) => provider.close(done));
  });

  it('lets in whom the provider knows, with the roles it claims and no more', async () => {
    const rosa = new Visitor();
    const page = await rosa.signIn(board, 'rosa');
    expect(page.url).toBe(`${board}/`);
    expect(JSON.parse(page.text)).toEqual({ id: 'rosa', name: 'Name of rosa', roles: ['hold'] });
    expect((await rosa.go(`${board}/trail`)).status).toBe(403);
    const lena = new Visitor();
    await lena.signIn(board, 'lena');
    expect(JSON.parse((await lena.go(`${board}/trail`)).text)).toEqual({ person: 'lena', role: 'lead' });
    expect(seen).toEqual(['rosa', 'lena']);
  });

  it('lets nobody in who has no role, nor a browser that did not ask', async () => {
    const page = await new Visitor().signIn(board, 'otto');
    expect(JSON.parse(page.text)).toMatchObject({ error: { code: 'sign-in-no-role' } });
    for (const query of ['', '?code=x&state=y', '?error=access_denied&state=y'])
      expect(JSON.parse((await new Visitor().go(`${board}/signed-in${query}`)).text)).toMatchObject({
        error: { code: 'sign-in-failed' },
      });
    expect((await new Visitor().go(`${board}/trail`)).status).toBe(401);
  });

  it('is over after a shift', async () => {
    const lena = new Visitor();
    await lena.signIn(board, 'lena');
    nowMs += 12 * 3_600_000 - 1;
    expect((await lena.go(`${board}/trail`)).status).toBe(200);
    nowMs += 1;
    expect((await lena.go(`${board}/trail`)).status).toBe(401);
  });

  it.each([
    ['no address', 'sign-in-address', 'provider'],
    ['in the open over a network', 'sign-in-address', 'http://provider.example'],
    ['where nobody answers', 'sign-in-away', 'http://127.0.0.1:9'],
  ])('says plainly what is wrong with a provider: %s', async (_what, code, issuer) => {
    const asked = createSignIn({
      ...{ issuer, clientId: 'x', clientSecret: 'x', address: board, rolesClaim: 'roles', rolesOf },
      rules: { roleFor, actsOf },
    });
    await expect(asked).rejects.toSatisfy((error) => error instanceof PlainError && error.code === code);
  });
});
