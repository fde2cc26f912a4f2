/**
 * Who may use the server: programs and pages of this machine, and on a shared page devices that use its address in the home network.
 * A foreign site whose name resolves to 127.0.0.1 still sends its own name in Host; a foreign page that posts here sends its own Origin.
 */
import type { IncomingHttpHeaders } from 'node:http';

/** Names under which this machine reaches itself. */
const LOOPBACK_NAMES = ['localhost', '127.0.0.1', '[::1]'] as const;

/** @returns the values of Host that the server answers to on `port`. */
function allowedHosts(port: number, names: readonly string[] = LOOPBACK_NAMES): Set<string> {
  const hosts = names.map((name) => `${name}:${port}`);
  if (port === 80) hosts.push(...names);
  return new Set(hosts);
}

export type Refusal = { code: 'foreign-host' | 'foreign-origin'; message: string; remedy: string };

/** Pages that a link from any site may open; they contain no data and are cheap. */
const ENTRANCES: ReadonlySet<string> = new Set(['/', '/join', '/signed-in']);

/**
 * A page elsewhere cannot read an answer of ours, but it could make the program do work for it. Browsers say where a request comes
 * from (W3C, Fetch Metadata Request Headers: Sec-Fetch-Site); another port of this machine is "same-site", and not ours.
 */
export function comesFromElsewhere(headers: IncomingHttpHeaders, path: string): boolean {
  const site = headers['sec-fetch-site'];
  if (site === undefined || site === 'same-origin' || site === 'none') return false;
  return !(
    headers['sec-fetch-mode'] === 'navigate' &&
    headers['sec-fetch-dest'] === 'document' &&
    ENTRANCES.has(path)
  );
}

/**
 * @param networkAddress  the address in the home network on which the request arrived; null when it came by loopback
 * @param path  of the request, without its query
 * @returns why a request is turned away, or null. A missing Origin is accepted, since browsers never omit it in a POST.
 */
export function refusal(
  headers: IncomingHttpHeaders,
  port: number,
  networkAddress: string | null = null,
  path = '/',
): Refusal | null {
  const hosts = allowedHosts(port, networkAddress === null ? LOOPBACK_NAMES : [networkAddress]);
  const address = `http://${networkAddress ?? '127.0.0.1'}:${port}/`;
  const host = headers.host?.toLowerCase() ?? '';
  if (!hosts.has(host)) {
    return {
      code: 'foreign-host',
      message:
        networkAddress === null
          ? 'This page answers only to the machine it runs on.'
          : 'This page does not answer to that name.',
      remedy: networkAddress === null ? `Open ${address} on that machine.` : `Open ${address}.`,
    };
  }
  const origin = headers.origin?.toLowerCase();
  const isForeign =
    origin !== undefined && !(origin.startsWith('http://') && hosts.has(origin.slice('http://'.length)));
  if (isForeign || comesFromElsewhere(headers, path)) {
    return {
      code: 'foreign-origin',
      message: 'A page from somewhere else tried to use Ebbline; it was refused.',
      remedy: `Use the page at ${address}.`,
    };
  }
  return null;
}

/** Sent with every answer. The page's scripts, styles and pictures come only from here. */
export const SAFETY_HEADERS: Readonly<Record<string, string>> = {
  'content-security-policy': [
    "default-src 'none'",
    "script-src 'self'",
    "style-src 'self'",
    "img-src 'self' data:",
    "font-src 'self'",
    "connect-src 'self'",
    "manifest-src 'self'",
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'none'",
  ].join('; '),
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'permissions-policy': 'camera=(), microphone=(), geolocation=()',
  'referrer-policy': 'no-referrer',
  'x-content-type-options': 'nosniff',
  'x-frame-options': 'DENY',
};
