import type { FeedRow, FeedSummary } from '../../src/feed/record/feed.ts';
import type { FeedPart } from '../../src/feed/record/feed-storage.ts';
import type { RefinedFeed } from '../../src/sensing/moment.ts';

/** An invented feed, just begun. */
export function begunFeed(id: string, changes: Partial<FeedSummary> = {}): FeedSummary {
  return {
    id,
    startedAtMs: Date.UTC(2026, 0, 5, 9, 0, 3),
    sampleZeroAtMs: Date.UTC(2026, 0, 5, 9, 0, 0),
    endedAtMs: null,
    state: 'open',
    endReason: null,
    simulated: false,
    sleeveId: 'bench-1',
    setup: {
      babyName: 'Wren',
      babyBirthDate: '2025-11-02',
      bottleName: 'blue cap',
      milkKind: 'expressed',
      portionMl: 90,
      caregiver: 'Juno',
    },
    intakeMl: 0,
    spiltMl: 0,
    addedMl: 0,
    durationSec: 0,
    captureFile: null,
    ...changes,
  };
}

/** One second of a feed: two rows and some bytes, all determined by `second`, so that a reader can check each. */
export function partOfSecond(second: number, byteCount = 64): FeedPart {
  return {
    rows: [rowAt(second), rowAt(second + 0.5)],
    cues: second % 60 === 30 ? [{ atSec: second, kind: 'burp', because: `${second} s` }] : [],
    told: second % 60 === 30 ? [{ shown: 'burp', sinceSec: second, atSec: second, output: 'light' }] : [],
    events: second === 0 ? [{ kind: 'teat-in', atSec: 0 }] : [],
    bytes: [bytesOfSecond(second, byteCount)],
    intakeMl: second / 10,
    spiltMl: 0,
    addedMl: 0,
    durationSec: second + 0.5,
  };
}

export function rowAt(atSec: number): FeedRow {
  return {
    atSec,
    milkMl: atSec % 7 === 0 ? null : 90 - atSec / 10,
    flowMlPerMin: atSec < 10 ? null : 6 + Math.sin(atSec),
    intakeMl: atSec / 10,
    teatInMouth: atSec % 20 < 15,
    tiltDeg: 80 + (atSec % 3),
  };
}

/** Bytes that gzip cannot shrink much, and that depend on their position. */
export function bytesOfSecond(second: number, count: number): Uint8Array {
  const bytes = new Uint8Array(count);
  for (let i = 0; i < count; i++) bytes[i] = (second * 8191 + i * 131 + ((i * i) >> 3)) >> 1;
  return bytes;
}

export function refinedSample(): RefinedFeed {
  return {
    atSec: [0, 0.5, 1],
    milkMl: [90, null, 89.87654],
    flowMlPerMin: [null, 4.5, 4.25],
    intakeMl: [0, 0.0375, 0.12346],
    milkSdMl: [0.5, null, 0.4],
    teatInMouth: [true, true, false],
    totals: { intakeMl: 82.25, spiltMl: 1.5, addedMl: 30 },
    suckAtSec: [0.1, 1.02],
    events: [
      { kind: 'teat-in', atSec: 0 },
      { kind: 'spill', atSec: 1, volumeMl: 1.5 },
    ],
  };
}
