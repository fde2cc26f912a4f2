/** What moved in a recomputation, in words for a terminal. */
import type { Recomputed } from './recompute.ts';

/** Sessions without a result before are counted apart: of them nothing can be said to have stayed. */
export function movedText({
  comparedWith,
  compared,
  added,
  moved,
}: Pick<Recomputed, 'comparedWith' | 'compared' | 'added' | 'moved'>): string[] {
  const what = comparedWith === null ? 'what the feeds keep' : `run ${comparedWith}`;
  if (compared === 0) return [`Nothing to compare with in ${what}: ${added} new`];
  return [
    `${compared} compared with ${what}, ${added} new:`,
    ...(moved.length === 0 ? ['  nothing moved'] : moved.map(lineOf)),
  ];
}

const lineOf = ({ what, unit, sessions, most }: Recomputed['moved'][number]): string =>
  // Of a session that was or is set aside there is no amount.
  `  ${what}: moved in ${sessions}${unit === '' ? '' : `, by at most ${most.toPrecision(3)} ${unit}`}`;
