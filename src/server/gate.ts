/**
 * Who may talk to the server: programs and pages of this machine only. A foreign site whose name was made to point
 * at 127.0.0.1 still sends its own name in Host; a foreign page that posts here sends its own Origin.
 */
import type { IncomingHttpHeaders } from 'node:http';

/** Names under which this machine reaches itself. */
const LOOPBACK_NAMES = ['localhost', '127.0.0.1', '[::1]'] as const;

/** @returns the values of Host that the server answers to on `port`. */
export function allowedHosts(port: number): Set<string> {
  const hosts: string[] = LOOPBACK_NAMES.map((name) => `${name}:${port}`);
  if (port === 80) hosts.push(...LOOPBACK_NAMES);
  return new Set(hosts);
}

export type Refusal = { code: 'foreign-host' | 'foreign-origin'; message: string; remedy: string };

/** @returns why a request is turned away, or null. A missing Origin is let through: browsers never leave it out of a POST. */
export function refusal(headers: IncomingHttpHeaders, port: number): Refusal | null {
  const hosts = allowedHosts(port);
  const host = headers.host?.toLowerCase() ?? '';
  if (!hosts.has(host)) {
    return {
      code: 'foreign-host',
      message: 'This page answers only to the machine it runs on.',
      remedy: `Open http://127.0.0.1:${port}/ on that machine.`,
    };
  }
  const origin = headers.origin?.toLowerCase();
  if (origin !== undefined && !(origin.startsWith('http://') && hosts.has(origin.slice('http://'.length)))) {
    return {
      code: 'foreign-origin',
      message: 'A page from somewhere else tried to use Ebbline; it was refused.',
      remedy: `Use the page at http://127.0.0.1:${port}/.`,
    };
  }
  return null;
}

/** Sent with every answer. The page's scripts, styles and pictures come from here and nowhere else. */
export const SAFETY_HEADERS: Readonly<Record<string, string>> = {
  'content-security-policy': [
    "default-src 'none'",
    "script-src 'self'",
    "style-src 'self'",
    "img-src 'self' data:",
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
