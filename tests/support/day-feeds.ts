/** Invented feeds of days, as lists have them. */
import type { HandFeed, HandFeedEntry, ListedFeed } from '../../src/feed/record/written-by-hand.ts';
import { EMPTY_SETUP } from './fake-live.ts';

export function listedFeed(atMs: number, part: Partial<ListedFeed> = {}): ListedFeed {
  return {
    id: `feed-${atMs}`,
    startedAtMs: atMs,
    sampleZeroAtMs: atMs,
    endedAtMs: atMs + 900_000,
    state: 'ended',
    endReason: 'button',
    simulated: false,
    sleeveId: 'bench-1',
    setup: { ...EMPTY_SETUP, babyName: 'Wren' },
    intakeMl: 80,
    spiltMl: 0,
    addedMl: 0,
    durationSec: 900,
    captureFile: null,
    atMs,
    cueCount: 2,
    cueCounts: { burp: 2 },
    toldCount: 2,
    corrected: null,
    ...part,
  };
}

export function handFeed(atMs: number, part: Partial<HandFeed> = {}): HandFeed {
  const entry: HandFeedEntry = {
    kind: 'breast',
    atMs,
    durationSec: 1200,
    offeredMl: null,
    leftMl: null,
    milkKind: null,
    side: 'both',
    caregiver: null,
    note: null,
    babyId: null,
    babyName: 'Wren',
  };
  return {
    ...entry,
    id: `hand-${atMs}`,
    writtenAtMs: atMs,
    withdrawn: false,
    original: entry,
    corrections: [],
    ...part,
  };
}
