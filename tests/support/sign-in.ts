/** A published OpenID Connect provider (oidc-provider) on loopback, and a visitor who signs in there as a browser does. */
import { once } from 'node:events';
import { createServer, request as httpRequest } from 'node:http';
import { request as httpsRequest } from 'node:https';
import type { AddressInfo } from 'node:net';
import Provider from 'oidc-provider';

export interface LocalProvider {
  issuer: string;
  close(): Promise<void>;
}

/**
 * Anybody can sign in with any password, and has the roles that are written after the name.
 * @param board  https://… or http://…, where people come back to
 */
export async function localProvider(
  accounts: Readonly<Record<string, readonly string[]>>,
  { board, secret }: { board: string; secret: string },
): Promise<LocalProvider> {
  const server = createServer();
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const issuer = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  const oidc = new Provider(issuer, {
    clients: [{ client_id: 'ebbline', client_secret: secret, redirect_uris: [`${board}/signed-in`] }],
    claims: { openid: ['sub', 'name', 'ebbline_roles'] },
    conformIdTokenClaims: false,
    cookies: { keys: ['a-key-for-tests'] },
    findAccount: (_context: unknown, id: string) => ({
      accountId: id,
      claims: () => ({ sub: id, name: `Name of ${id}`, ebbline_roles: accounts[id] ?? [] }),
    }),
  });
  server.on('request', oidc.callback());
  return {
    issuer,
    async close() {
      server.closeAllConnections();
      server.close();
      await once(server, 'close');
    },
  };
}

export interface Page {
  url: string;
  status: number;
  text: string;
}

/** Follows redirects as a browser does, with cookies for each host. */
export class Visitor {
  readonly #jars = new Map<string, Map<string, string>>();
  readonly #ca: string | undefined;

  /** @param ca  an authority that this browser trusts besides, PEM */
  constructor(ca?: string) {
    this.#ca = ca;
  }

  /** As they stand in a request's header. */
  cookies(url: string): string {
    return [...(this.#jars.get(new URL(url).host) ?? [])]
      .map(([name, value]) => `${name}=${value}`)
      .join('; ');
  }

  async go(url: string, form?: Record<string, string>): Promise<Page> {
    let next: { url: string; form: Record<string, string> | undefined } = { url, form };
    for (let hops = 0; hops < 12; hops++) {
      const body = next.form && new URLSearchParams(next.form).toString();
      const type = body === undefined ? {} : { 'content-type': 'application/x-www-form-urlencoded' };
      const { status, location, text } = await this.#ask(next.url, body, type);
      if (location === undefined) return { url: next.url, status, text };
      next = { url: new URL(location, next.url).href, form: undefined };
    }
    throw new Error('a circle of redirects');
  }

  /** Posts JSON as a page of the board does. */
  async post(url: string, body: object): Promise<Page> {
    const { status, text } = await this.#ask(url, JSON.stringify(body), {
      'content-type': 'application/json',
      origin: new URL(url).origin,
    });
    return { url, status, text };
  }

  /** The provider's own two pages: a name and any password, then yes. */
  async signIn(board: string, name: string): Promise<Page> {
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

  /** Reads a stream of events until `act` has had enough of it. @param act  @returns whether that is so */
  watch<T>(url: string, act: (event: T) => boolean): Promise<void> {
    return new Promise((resolve, reject) => {
      const asked = this.#request(url, {});
      asked.on('error', reject);
      asked.on('response', (answer) => {
        let text = '';
        answer.setEncoding('utf8').on('data', (more: string) => {
          text += more;
          const events = text.split('\n\n');
          text = events.pop()!;
          for (const event of events) {
            if (!event.startsWith('data: ') || !act(JSON.parse(event.slice('data: '.length)))) continue;
            asked.destroy();
            return resolve();
          }
        });
        answer.on('end', () => reject(new Error(`the stream ended with ${answer.statusCode}: ${text}`)));
      });
      asked.end();
    });
  }

  #request(url: string, headers: Record<string, string>, method = 'GET') {
    const request = url.startsWith('https:') ? httpsRequest : httpRequest;
    return request(url, {
      method,
      agent: false,
      headers: { ...headers, cookie: this.cookies(url) },
      ...(this.#ca !== undefined && { ca: this.#ca }),
    });
  }

  #ask(
    url: string,
    body: string | undefined,
    headers: Record<string, string>,
  ): Promise<{ status: number; location: string | undefined; text: string }> {
    return new Promise((resolve, reject) => {
      const asked = this.#request(url, headers, body === undefined ? 'GET' : 'POST');
      asked.on('error', reject);
      asked.on('response', (answer) => {
        this.#keep(url, answer.headers['set-cookie'] ?? []);
        let text = '';
        answer.setEncoding('utf8').on('data', (more: string) => {
          text += more;
        });
        answer.on('end', () =>
          resolve({ status: answer.statusCode!, location: answer.headers.location, text }),
        );
      });
      asked.end(body);
    });
  }

  #keep(url: string, lines: readonly string[]): void {
    const { host } = new URL(url);
    const jar = this.#jars.get(host) ?? new Map<string, string>();
    this.#jars.set(host, jar);
    for (const line of lines) {
      const [, name, value] = /^([^=]+)=([^;]*)/.exec(line)!;
      if (value === '') jar.delete(name!);
      else jar.set(name!, value!);
    }
  }
}
