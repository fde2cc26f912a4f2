/**
 * Signing in by OpenID Connect (OpenID Connect Core 1.0, code flow with PKCE, RFC 7636): the provider knows who somebody is and which roles she has; this
 * server keeps only, in memory, which browser is whose, for a shift.
 */
import { randomBytes } from 'node:crypto';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import * as oidc from 'openid-client';
import { PlainError } from '../../base/errors.ts';
import type { Person, Role } from '../../ward/people/roles.ts';
import type { People } from './people.ts';

export interface SignInOptions {
  issuer: string;
  clientId: string;
  clientSecret: string;
  /** Where people reach the board, such as https://board.example. */
  address: string;
  /** Claim of the roles. */
  rolesClaim: string;
  /** Reads the claim. */
  rolesOf: (claimed: unknown) => Role[];
  /** As in ward/people/roles.ts. */
  rules: Pick<People, 'roleFor' | 'actsOf'>;
  /** Monotonic ms. */
  nowMs?: () => number;
  onSignedIn?: (person: Person) => void;
}

const COOKIE = 'ebbline-person';
/** A shift; own choice, no source. */
const SIGNED_IN_MS = 12 * 3600_000;
const PENDING_MS = 600_000;
const MOST_PENDING = 1000;
const LOOPBACK = /^(localhost|127(\.\d{1,3}){3}|\[::1\])$/;

export interface SignIn extends People {
  addRoutes(app: FastifyInstance): void;
}

/** @throws PlainError sign-in-address, sign-in-away */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: one provider, whose steps share what was discovered and who is waited for
export async function createSignIn(options: SignInOptions): Promise<SignIn> {
  const config = await discovered(options);
  const { nowMs = () => performance.now() } = options;
  const sessions = new Map<string, { person: Person; untilMs: number }>();
  const pending = new Map<string, { verifier: string; nonce: string; untilMs: number }>();
  const isSecure = options.address.startsWith('https:');
  const cookie = (value: string, sec: number): string =>
    `${COOKIE}=${value}; HttpOnly; SameSite=Lax; Path=/; Max-Age=${sec}${isSecure ? '; Secure' : ''}`;
  const redirect = new URL('/signed-in', options.address).href;
  const secretOf = ({ headers }: FastifyRequest): string | undefined =>
    (headers.cookie ?? '')
      .split(';')
      .map((pair) => pair.trim())
      .find((pair) => pair.startsWith(`${COOKIE}=`))
      ?.slice(COOKIE.length + 1);
  const dropOld = <T extends { untilMs: number }>(map: Map<string, T>): void => {
    for (const [key, { untilMs }] of map) if (untilMs <= nowMs()) map.delete(key);
  };

  async function begin(): Promise<string> {
    dropOld(pending);
    // Whoever asks again and again pushes out only those who never came back.
    if (pending.size >= MOST_PENDING) pending.delete(pending.keys().next().value!);
    const [state, nonce, verifier] = [oidc.randomState(), oidc.randomNonce(), oidc.randomPKCECodeVerifier()];
    pending.set(state, { verifier, nonce, untilMs: nowMs() + PENDING_MS });
    return oidc.buildAuthorizationUrl(config, {
      redirect_uri: redirect,
      scope: 'openid profile',
      code_challenge: await oidc.calculatePKCECodeChallenge(verifier),
      code_challenge_method: 'S256',
      state,
      nonce,
    }).href;
  }

  async function finish(url: string): Promise<string> {
    const current = new URL(url, options.address);
    const state = current.searchParams.get('state') ?? '';
    const asked = pending.get(state);
    pending.delete(state);
    if (!asked || asked.untilMs <= nowMs()) throw notSignedIn();
    const claims = await oidc
      .authorizationCodeGrant(config, current, {
        pkceCodeVerifier: asked.verifier,
        expectedState: state,
        expectedNonce: asked.nonce,
        idTokenExpected: true,
      })
      .then((tokens) => tokens.claims())
      .catch((cause: unknown) => {
        throw notSignedIn(cause);
      });
    const roles = options.rolesOf(claims?.[options.rolesClaim]);
    if (!claims || roles.length === 0)
      throw new PlainError(
        'sign-in-no-role',
        'You are known, but you have no role here.',
        'Ask whoever keeps the accounts for one of: hold, lead, parent, researcher.',
      );
    const person: Person = { id: claims.sub, name: String(claims.name ?? claims.sub), roles };
    dropOld(sessions);
    const secret = randomBytes(24).toString('base64url');
    sessions.set(secret, { person, untilMs: nowMs() + SIGNED_IN_MS });
    options.onSignedIn?.(person);
    return secret;
  }

  return {
    ...options.rules,
    personOf(request) {
      const session = sessions.get(secretOf(request) ?? '');
      return session && session.untilMs > nowMs() ? session.person : null;
    },
    addRoutes(app) {
      app.get('/sign-in', async (_request, reply) =>
        reply.header('cache-control', 'no-store').redirect(await begin(), 303),
      );
      app.get('/signed-in', async (request, reply) => {
        reply.header('cache-control', 'no-store');
        const secret = await finish(request.url);
        return reply.header('set-cookie', cookie(secret, SIGNED_IN_MS / 1000)).redirect('/', 303);
      });
      app.post('/sign-out', async (request, reply) => {
        sessions.delete(secretOf(request) ?? '');
        return reply.header('set-cookie', cookie('', 0)).code(204).send();
      });
    },
  };
}

const notSignedIn = (cause?: unknown): PlainError =>
  new PlainError('sign-in-failed', 'Signing in did not work.', 'Try again from the beginning.', { cause });

async function discovered({ issuer, clientId, clientSecret }: SignInOptions): Promise<oidc.Configuration> {
  const url = URL.canParse(issuer) ? new URL(issuer) : null;
  const isOpen = url?.protocol === 'http:';
  if (!url || (url.protocol !== 'https:' && !isOpen) || (isOpen && !LOOPBACK.test(url.hostname)))
    throw new PlainError(
      'sign-in-address',
      `"${issuer}" is not the address of a provider that can be trusted.`,
      'Write https://…, as its administrator names the issuer.',
    );
  try {
    return await oidc.discovery(
      url,
      clientId,
      clientSecret,
      undefined,
      isOpen ? { execute: [oidc.allowInsecureRequests] } : {},
    );
  } catch (cause) {
    throw new PlainError(
      'sign-in-away',
      `The provider ${issuer} does not answer as one (${(cause as Error).message}).`,
      'Check its address and that it can be reached from this computer.',
      { cause },
    );
  }
}
