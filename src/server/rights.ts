/**
 * The rights of a device in the home network: watch, help, or owner (everything except what is done only on the computer itself: share, delete).
 * Pure. On that computer itself everything is allowed.
 */

export const RIGHTS = ['watch', 'help', 'owner'] as const;
export type Right = (typeof RIGHTS)[number];

/** Routes for the computer itself only. */
const ONLY_FROM_HERE: ReadonlySet<string> = new Set(['/sharing', '/kept/forget']);
/** Routes for owners only: they show where data are stored, export all of them, or show participants of a study. */
const OWNERS_READING: ReadonlySet<string> = new Set([
  '/kept',
  '/kept/ebbline.jsonl',
  '/studies',
  '/studies/:code',
  '/studies/:code/curves.svg',
]);
/** Routes for helpers: they help with a running feed and take no data away. */
const HELPING: ReadonlySet<string> = new Set([
  'burped',
  'mute',
  'dim',
  'guidance-off',
  'show-cues',
  'hand-over',
  'which-sleeve',
]);

export interface AskedFor {
  method: string;
  /** Path of the route that was found, as in `/feeds/:id/corrections`; null when there is none. */
  route: string | null;
  /** Parsed; null before it was read. */
  body: unknown;
}

export type Permission = 'yes' | 'only-from-here' | 'not-by-this-device';

/** @returns whether a device with this right may use it */
export function permission(right: Right, { method, route, body }: AskedFor): Permission {
  if (route !== null && ONLY_FROM_HERE.has(route)) return 'only-from-here';
  if (right === 'owner') return 'yes';
  if (method === 'GET') return route !== null && OWNERS_READING.has(route) ? 'not-by-this-device' : 'yes';
  return right === 'help' && isHelp(route, body) ? 'yes' : 'not-by-this-device';
}

function isHelp(route: string | null, body: unknown): boolean {
  const { kind, correction } = (body ?? {}) as { kind?: unknown; correction?: { kind?: unknown } | null };
  if (route === '/live/commands') return typeof kind === 'string' && HELPING.has(kind);
  return route === '/feeds/:id/corrections' && correction?.kind === 'note';
}
