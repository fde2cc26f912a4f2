/**
 * Sign-in by OpenID Connect (OpenID Connect Core 1.0, code flow with PKCE, RFC 7636): the provider knows a person's identity and roles; this server
 * only stores, in memory and for a shift, which browser belongs to whom.
 */
import { randomBytes } from 'node:crypto';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import * as oidc from 'openid-client';
import { messageOf, PlainError } from '../../base/errors.ts';
import type { Person, Role } from '../../ward/people/roles.ts';
import type { People } from './people.ts';

export interface SignInOptions {
  issuer: string;
  clientId: string;
  clientSecret: string;
  /** Public address of the board, such as https://board.example. */
  address: string;
  /** Name of the claim with the roles. */
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
export async function createSignIn(options: SignInOptions): Promise<SignIn> {
  const signIns = new SignIns(options, await discovered(options));
  return {
    ...options.rules,
    personOf: (request) => signIns.personOf(request),
    addRoutes(app) {
      app.get('/sign-in', async (_request, reply) =>
        reply.header('cache-control', 'no-store').redirect(await signIns.begin(), 303),
      );
      app.get('/signed-in', async (request, reply) => {
        reply.header('cache-control', 'no-store');
        try {
          const secret = await signIns.finish(request.url);
          return reply.header('set-cookie', signIns.cookie(secret, SIGNED_IN_MS / 1000)).redirect('/', 303);
        } catch (error) {
          // To a person the page says it, in her language.
          if (!(error instanceof PlainError) || !request.headers.accept?.includes('text/html')) throw error;
          return reply.redirect(`/?refused=${error.code}`, 303);
        }
      });
      app.post('/sign-out', async (request, reply) => {
        signIns.signOut(request);
        return reply.header('set-cookie', signIns.cookie('', 0)).code(204).send();
      });
    },
  };
}

function dropOld<T extends { untilMs: number }>(map: Map<string, T>, nowMs: number): void {
  for (const [key, { untilMs }] of map) if (untilMs <= nowMs) map.delete(key);
}

const secretOf = ({ headers }: FastifyRequest): string =>
  (headers.cookie ?? '')
    .split(';')
    .map((pair) => pair.trim())
    .find((pair) => pair.startsWith(`${COOKIE}=`))
    ?.slice(COOKIE.length + 1) ?? '';

class SignIns {
  readonly #options: SignInOptions;
  readonly #config: oidc.Configuration;
  readonly #nowMs: () => number;
  readonly #sessions = new Map<string, { person: Person; untilMs: number }>();
  readonly #pending = new Map<string, { verifier: string; nonce: string; untilMs: number }>();

  constructor(options: SignInOptions, config: oidc.Configuration) {
    this.#options = options;
    this.#config = config;
    this.#nowMs = options.nowMs ?? (() => performance.now());
  }

  cookie(value: string, sec: number): string {
    const secure = this.#options.address.startsWith('https:') ? '; Secure' : '';
    return `${COOKIE}=${value}; HttpOnly; SameSite=Lax; Path=/; Max-Age=${sec}${secure}`;
  }

  personOf(request: FastifyRequest): Person | null {
    const session = this.#sessions.get(secretOf(request));
    return session && session.untilMs > this.#nowMs() ? session.person : null;
  }

  signOut(request: FastifyRequest): void {
    this.#sessions.delete(secretOf(request));
  }

  /** @returns the address to send the browser to */
  async begin(): Promise<string> {
    dropOld(this.#pending, this.#nowMs());
    // Too many unfinished sign-ins push out only the oldest of these.
    const [oldest] = this.#pending.keys();
    if (this.#pending.size >= MOST_PENDING && oldest !== undefined) this.#pending.delete(oldest);
    const [state, nonce, verifier] = [oidc.randomState(), oidc.randomNonce(), oidc.randomPKCECodeVerifier()];
    this.#pending.set(state, { verifier, nonce, untilMs: this.#nowMs() + PENDING_MS });
    return oidc.buildAuthorizationUrl(this.#config, {
      redirect_uri: new URL('/signed-in', this.#options.address).href,
      scope: 'openid profile',
      code_challenge: await oidc.calculatePKCECodeChallenge(verifier),
      code_challenge_method: 'S256',
      state,
      nonce,
    }).href;
  }

  /** @returns the secret of the browser, which is now signed in @throws PlainError sign-in-failed, sign-in-no-role */
  async finish(url: string): Promise<string> {
    const person = await this.#personBehind(new URL(url, this.#options.address));
    dropOld(this.#sessions, this.#nowMs());
    const secret = randomBytes(24).toString('base64url');
    this.#sessions.set(secret, { person, untilMs: this.#nowMs() + SIGNED_IN_MS });
    this.#options.onSignedIn?.(person);
    return secret;
  }

  async #personBehind(current: URL): Promise<Person> {
    const state = current.searchParams.get('state') ?? '';
    const asked = this.#pending.get(state);
    this.#pending.delete(state);
    if (!asked || asked.untilMs <= this.#nowMs()) throw notSignedIn();
    const claims = await oidc
      .authorizationCodeGrant(this.#config, current, {
        pkceCodeVerifier: asked.verifier,
        expectedState: state,
        expectedNonce: asked.nonce,
        idTokenExpected: true,
      })
      .then((tokens) => tokens.claims())
      .catch((cause: unknown) => {
        throw notSignedIn(cause);
      });
    const roles = this.#options.rolesOf(claims?.[this.#options.rolesClaim]);
    if (!claims || roles.length === 0)
      throw new PlainError(
        'sign-in-no-role',
        'You are known, but you have no role here.',
        'Ask whoever keeps the accounts for one of: hold, lead, parent, researcher.',
      );
    return { id: claims.sub, name: String(claims.name ?? claims.sub), roles };
  }
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
      `The provider ${issuer} does not answer as one (${messageOf(cause)}).`,
      'Check its address and that it can be reached from this computer.',
      { cause },
    );
  }
}
