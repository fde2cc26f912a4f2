/**
 * What a device of the home network may do: watch, help, or all that an owner may but what is done on the computer itself (share, delete).
 * Pure. Whoever sits at that computer may do everything.
 */

export const RIGHTS = ['watch', 'help', 'owner'] as const;
export type Right = (typeof RIGHTS)[number];

/** Nothing but the computer itself shares, or deletes a baby. */
const ONLY_FROM_HERE: ReadonlySet<string> = new Set(['/sharing', '/kept/forget']);
/** Says where things are kept, gives all of it away at once, or tells of the participants of a study. */
const OWNERS_READING: ReadonlySet<string> = new Set([
  '/kept',
  '/kept/ebbline.jsonl',
  '/studies',
  '/studies/:code',
  '/studies/:code/curves.svg',
]);
/** What helps with a feed that runs, and takes nothing from it. */
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

/** @returns whether a device of this right may ask for it */
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
