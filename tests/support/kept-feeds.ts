/** Invented kept feeds for tests of the page and its server. */
import type { FeedRow, KeptFeed } from '../../src/feed/record/feed.ts';
import type { ListedFeed } from '../../src/server/needs.ts';
import { EMPTY_SETUP } from './fake-live.ts';

const START_MS = Date.UTC(2026, 10, 24, 18, 5, 0);
/** The capture begins this long before the first latch. */
export const LEAD_SEC = 42;

/** A feed of ten minutes and a half at a steady 6 mL/min, two rows a second, with three cues. */
export function keptFeed(part: Partial<KeptFeed> = {}): KeptFeed {
  const rows: FeedRow[] = [];
  for (let half = 0; half <= (LEAD_SEC + 630) * 2; half++) {
    const atSec = half / 2;
    const intakeMl = Math.max(0, ((atSec - LEAD_SEC) / 60) * 6);
    const teatInMouth = atSec >= LEAD_SEC;
    rows.push({
      atSec,
      milkMl: 90 - intakeMl,
      flowMlPerMin: teatInMouth ? 6 : 0,
      intakeMl,
      teatInMouth,
      tiltDeg: 95,
    });
  }
  return {
    id: 'feed-1',
    startedAtMs: START_MS + LEAD_SEC * 1000,
    sampleZeroAtMs: START_MS,
    endedAtMs: START_MS + (LEAD_SEC + 630) * 1000,
    state: 'ended',
    endReason: 'page',
    simulated: true,
    sleeveId: 'bench-1',
    setup: { ...EMPTY_SETUP, babyName: 'Juno', babyBirthDate: '2026-08-30', milkKind: 'expressed' },
    intakeMl: 63,
    spiltMl: 0,
    addedMl: 0,
    durationSec: 630,
    captureFile: 'feed-1.cap.gz',
    calibration: { version: 1 },
    rows,
    cues: [
      { atSec: LEAD_SEC + 30, kind: 'tilt-down', because: '7 mL in 21 s' },
      { atSec: LEAD_SEC + 150, kind: 'burp', because: '15 mL since the last burp' },
      { atSec: LEAD_SEC + 630, kind: 'offer-stop', because: 'sucking faded' },
    ],
    told: (['tilt-down', 'burp', 'offer-stop'] as const).map((shown, i) => {
      const atSec = LEAD_SEC + [30, 150, 630][i]!;
      return { shown, sinceSec: atSec, atSec, output: 'light' };
    }),
    events: [{ kind: 'teat-in', atSec: LEAD_SEC }],
    refined: null,
    ...part,
  };
}

export function listed(kept: KeptFeed): ListedFeed & { toldCount: number | null } {
  const {
    calibration: _calibration,
    rows: _rows,
    refined: _refined,
    events: _events,
    cues,
    told,
    ...summary
  } = kept;
  const toldCount = told ? new Set(told.map(({ sinceSec }) => sinceSec)).size : null;
  return { ...summary, cueCount: cues.length, toldCount };
}

export const feedReader = (kept: KeptFeed[] = [keptFeed()]) => ({
  list: () => kept.map(listed),
  get: (id: string) => kept.find((feed) => feed.id === id) ?? null,
});

/** Replaces the graph of a feed in tests that are not about it; styled like the real one. */
export const plainGraph = (): string =>
  '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 320 120" role="img" aria-label="A graph">' +
  '<style>.line { stroke: #1c1712; }</style><path class="line" style="fill: none" d="M10 110 L310 20"/></svg>';
