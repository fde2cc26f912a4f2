/** Signing in at a published provider (oidc-provider) on loopback: roles are those that it states. */
import Fastify from 'fastify';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { PlainError } from '../../src/base/errors.ts';
import { addErrorAnswers } from '../../src/server/bare-app.ts';
import { allowed } from '../../src/server/ward/people.ts';
import { createSignIn, type SignIn } from '../../src/server/ward/sign-in.ts';
import { actsOf, roleFor, rolesOf } from '../../src/ward/people/roles.ts';
import { freePort } from '../support/free-port.ts';
import { type LocalProvider, localProvider, Visitor } from '../support/sign-in.ts';

const ACCOUNTS: Record<string, string[]> = { rosa: ['hold'], lena: ['lead', 'parent'], otto: [] };
const SECRET = 'a-secret-for-this-test-alone';

describe('signing in by OpenID Connect', () => {
  let provider: LocalProvider;
  let board: string;
  let signIn: SignIn;
  let nowMs = 0;
  const app = Fastify({ forceCloseConnections: true });
  const seen: string[] = [];

  beforeAll(async () => {
    // The provider must be told the board's address, so the board listens first.
    app.get('/', async (request) => signIn.personOf(request));
    app.get('/trail', async (request, reply) => allowed(signIn, 'trail', request, reply) ?? reply);
    const port = await freePort();
    board = `http://127.0.0.1:${port}`;
    provider = await localProvider(ACCOUNTS, { board, secret: SECRET });
    const { issuer } = provider;
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
    await provider.close();
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

  it('tells a person on the page, and a program by an object', async () => {
    const asked = await fetch(`${board}/signed-in?error=access_denied&state=y`, {
      redirect: 'manual',
      headers: { accept: 'text/html,*/*' },
    });
    expect([asked.status, asked.headers.get('location')]).toEqual([303, '/?refused=sign-in-failed']);
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
