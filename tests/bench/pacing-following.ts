/** A feed in which the caregiver follows what is shown, beside one in which she does not. */
import { FAMILY_GUIDANCE } from '../../src/pacing/index.ts';
import { type PacedFeed, runFeed } from './paced-feed.ts';
import { type Cell, fixed, median, printTable } from './table.ts';

/** The longest that the nipple was out in one go, from leaving the mouth to the next latch, s. */
export function longestOutSec({ truth }: PacedFeed): number {
  let longest = 0;
  for (const [i, event] of truth.events.entries()) {
    const next = truth.events[i + 1];
    if (event.kind !== 'latch' && event.kind !== 'end' && next?.kind === 'latch') {
      longest = Math.max(longest, next.atSec - event.atSec);
    }
  }
  return longest;
}

/** The longest time without milk between the first and the last, s, however it was brought about. */
export function longestDrySec({ truth }: PacedFeed): number {
  let longest = 0;
  let lastSec: number | null = null;
  for (const [row, intakeMl] of truth.intakeSoFarMl.entries()) {
    if (intakeMl <= (truth.intakeSoFarMl[row - 1] ?? 0) + 1e-6) continue;
    const atSec = truth.atSec[row]!;
    if (lastSec !== null) longest = Math.max(longest, atSec - lastSec);
    lastSec = atSec;
  }
  return longest;
}

export function benchFollowing(seeds: number): void {
  const rows: Cell[][] = [];
  for (const scenario of ['tipped-up', 'hurried-start', 'paced'] as const) {
    for (const follows of [false, true]) {
      const feeds = Array.from({ length: seeds }, (_, i) =>
        runFeed({ scenario, seed: 500 + i, follows, guidance: FAMILY_GUIDANCE }),
      );
      const span = (of: (feed: PacedFeed) => number): string => {
        const values = feeds.map(of);
        return `${fixed(median(values), 0)} (${fixed(Math.min(...values), 0)}-${fixed(Math.max(...values), 0)})`;
      };
      rows.push([
        scenario,
        follows ? 'follows' : 'does not',
        span(({ truth }) => truth.durationSec / 60),
        span(({ truth }) => truth.intakeMl),
        span(({ cues }) => cues.length),
        span(({ shown }) => shown.length),
        span(({ shown }) => shown.filter(({ kind }) => kind === 'tilt-down' || kind === 'keep-low').length),
        span(longestOutSec),
        span(longestDrySec),
      ]);
    }
  }
  printTable(
    'What becomes of a feed, median (range)',
    [
      'scenario',
      'caregiver',
      'min',
      'mL',
      'cues recorded',
      'shown',
      'of these ease off',
      'longest out, s',
      'longest without milk, s',
    ],
    rows,
    [
      `${seeds} seeds each, family guidance. Goal for the fast scenario (tipped-up) when followed: 12-25 min, at most 8 cues, no pause over 60 s.`,
    ],
  );
}
